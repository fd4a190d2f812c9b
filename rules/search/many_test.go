package search

import "placketeer/rules/trial"

var many = trial.Many
