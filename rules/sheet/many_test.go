package sheet

import "placketeer/rules/trial"

var long, many = trial.Long, trial.Many

var outside, program = trial.Outside, trial.Program
