package sheet

import (
	"fmt"
	"io"
	"strings"

	"placketeer/rules"
)

// ChoiceFormats are the formats that Choice writes.
var ChoiceFormats = []string{"text", "json", "csv"}

// Choice writes what the catalogue offers for a closure.
func Choice(w io.Writer, c *rules.Choice, o Options) error {
	switch o.Format {
	case "", "text", "json", "csv":
		return nil
	}
	return fmt.Errorf("there is no format %q here: use %s", o.Format, strings.Join(ChoiceFormats, ", "))
}
