//go:build race

package desk

const raced = true // with the race detector, a program takes seconds to start
