package rules

import (
	"strings"
)

// KeyOf is the key of a change KEY=VALUE.
func KeyOf(with string) string {
	key, _, _ := strings.Cut(with, "=")
	return key
}
