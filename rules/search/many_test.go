package search

import "placketeer/rules/trial"

var long, many = trial.Long, trial.Many
