package desk

import (
	"errors"
	"io"

	"placketeer/rules"
	"placketeer/rules/sheet"
)

func checklist(w io.Writer, p *rules.Planned, o sheet.Options) error {
	return errors.New("the checklist is not written yet")
}
