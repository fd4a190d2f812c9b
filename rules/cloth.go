package rules

var clothRules []*Rule
