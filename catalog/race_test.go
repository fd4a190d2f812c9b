//go:build race

package catalog

// slower is by how much the race detector makes a test slower: two to twenty
// times, as its documentation says.
const slower = 5
