package guide

import "placketeer/rules/trial"

var many, program = trial.Many, trial.Program
