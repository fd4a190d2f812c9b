package sheet

import "placketeer/rules/trial"

var (
	long, many = trial.Long, trial.Many
	program    = trial.Program
)
