//go:build !race

package sheet

const raced = false
