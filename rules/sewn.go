package rules

var sewnRules []*Rule
