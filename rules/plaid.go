package rules

var plaidRules []*Rule
