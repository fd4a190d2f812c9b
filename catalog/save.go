package catalog

import (
	"errors"
	"fmt"
	"strings"

	"placketeer/catalog/source"
)

// ErrChanged says that somebody changed the file of a garment after it was
// read.
var ErrChanged = errors.New("was changed while this was worked out, and stays as it is: run it again")

// Save puts a changed text in the place of the file that a garment was read
// from: through a new file that takes its name, so that it is there whole or
// as it was. Where somebody has changed the file since it was read, it stays
// as it is, and the error is ErrChanged.
func (g *Garment) Save(data []byte) error {
	now, err := source.ReadFile(g.File)
	if err != nil {
		return err
	}
	const mark = "\ufeff" // that some editors begin a file with
	bare, marked := strings.CutPrefix(string(now), mark)
	if marked {
		data = append([]byte(mark), data...)
	}
	if bare != g.Text() {
		return fmt.Errorf("%s %w", g.File, ErrChanged)
	}
	return source.WriteFile(g.File, data)
}
