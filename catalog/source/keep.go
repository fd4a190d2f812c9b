package source

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strconv"

	"placketeer/catalog/text"
)

// maxKept is how many older texts of one file are kept beside it.
const maxKept = 999

// Keep writes data beside a file, under the first name that is free: its own
// with .before behind it, then .before-2, and so on. Nothing is written over.
// The name comes back; the mode is that of the file.
func Keep(name string, data []byte) (string, error) {
	mode := fs.FileMode(0o666)
	if info, err := os.Stat(name); err == nil {
		mode = info.Mode().Perm()
	}
	for n := 1; n <= maxKept; n++ {
		kept := name + ".before"
		if n > 1 {
			kept += "-" + strconv.Itoa(n)
		}
		ok, err := keepAs(kept, data, mode)
		if err != nil || ok {
			return kept, err
		}
	}
	return "", fmt.Errorf("%s has %d older texts beside it: take some away", text.Safe(name), maxKept)
}

// WriteNew writes a file where there is none of that name; false where there
// is one, which stays as it is. After an error there is none.
func WriteNew(name string, data []byte) (bool, error) { return keepAs(name, data, 0o666) }

// keepAs writes a file whole where there is none of that name.
func keepAs(name string, data []byte, mode fs.FileMode) (ok bool, err error) {
	begin()
	f, err := os.OpenFile(name, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if errors.Is(err, fs.ErrExist) {
		return false, nil
	}
	if err != nil {
		return false, plainError("write", name, err)
	}
	begun(name)
	defer ended(name)
	_, err = f.Write(data)
	if e := f.Sync(); err == nil {
		err = e
	}
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		os.Remove(name)
		return false, plainError("write", name, err)
	}
	return true, nil
}
