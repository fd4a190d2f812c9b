//go:build !race

package source

const slower = 1
