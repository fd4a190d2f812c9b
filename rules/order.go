package rules

var orderRules []*Rule
