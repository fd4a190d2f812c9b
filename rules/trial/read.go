package trial

import (
	"testing"

	"placketeer/catalog"
)

// Read is the garment of a text, with changes as --with takes them. The test
// ends where it cannot be read.
func Read(t testing.TB, text string, with ...string) *catalog.Garment {
	t.Helper()
	g, err := catalog.Read("coat.toml", []byte(text), catalog.Options{With: with})
	if err != nil {
		t.Fatal(err)
	}
	return g
}

// Load is the garment of a file, likewise.
func Load(t testing.TB, file string, with ...string) *catalog.Garment {
	t.Helper()
	g, err := catalog.Load(file, catalog.Options{With: with})
	if err != nil {
		t.Fatal(err)
	}
	return g
}
