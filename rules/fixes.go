package rules

import (
	"slices"
	"strings"
)

// Keys are the keys that a change sets.
func (c *Change) Keys() string {
	keys := make([]string, len(c.With))
	for i, w := range c.With {
		keys[i] = w.Key
	}
	slices.Sort(keys)
	return strings.Join(keys, "\n")
}
