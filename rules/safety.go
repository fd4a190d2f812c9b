package rules

var safetyRules []*Rule
