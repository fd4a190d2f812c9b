package rules

var rowsRules []*Rule
