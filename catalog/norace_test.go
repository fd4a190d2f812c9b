//go:build !race

package catalog

const slower = 1
