//go:build !race

package search

const raced = false
