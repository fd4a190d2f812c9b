package source

import (
	"io"
	"os"
)

// WriteFile writes a file whole or not at all; see Write.
func WriteFile(name string, data []byte) error {
	return Write(name, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// Write writes what fill writes to a file whole or not at all.
func Write(name string, fill func(io.Writer) error) error {
	f, err := os.Create(name)
	if err != nil {
		return err
	}
	defer f.Close()
	return fill(f)
}
