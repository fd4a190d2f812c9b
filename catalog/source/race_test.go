//go:build race

package source

// slower is by how much the race detector makes a test slower: two to twenty
// times, as its documentation says.
const slower = 5
