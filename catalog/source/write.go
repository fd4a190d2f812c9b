package source

import (
	"bufio"
	"bytes"
	"crypto/rand"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"time"

	"placketeer/catalog/text"
)

// WriteFile writes a file whole or not at all; see Write.
func WriteFile(name string, data []byte) error {
	return Write(name, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	})
}

// Write writes what fill writes to a file, whole or not at all: into a new
// file in the same folder, which takes the name when it is complete and on
// the disk. After an error the file is what it was before, and nothing else is
// left behind. A file that is there keeps its mode; a link keeps pointing to
// the file it points to. Devices and pipes, such as /dev/stdout, cannot be
// replaced and are written directly. Errors are in plain words and hold the
// error beneath.
func Write(name string, fill func(io.Writer) error) error { return write(name, fill, nil) }

// errOther says that a file was not what it was to be any more.
var errOther = errors.New("the file is another")

// Replace is WriteFile of a file that still holds was; false where it holds
// anything else, and then it stays as it is. The last look at it comes right
// before the new text takes its name, and where two files can exchange names,
// after it too.
func Replace(name string, was, data []byte) (bool, error) {
	err := write(name, func(w io.Writer) error {
		_, err := w.Write(data)
		return err
	}, func(name string) error {
		if now, err := ReadFile(name); err != nil {
			return err
		} else if !bytes.Equal(now, was) {
			return errOther
		}
		return nil
	})
	if errors.Is(err, errOther) {
		return false, nil
	}
	return err == nil, err
}

// write is Write with a last look before the new file takes the name, where
// one is given.
func write(name string, fill func(io.Writer) error, look func(name string) error) error {
	mode := fs.FileMode(0o666) // less what the system masks
	exists := false
	target := name
	switch info, err := os.Stat(name); {
	case name == "":
		return errors.New("no file is named to write to")
	case err == nil && info.IsDir():
		return fmt.Errorf("%s is a folder; name a file in it", text.Safe(name))
	case err == nil && !info.Mode().IsRegular() && look != nil:
		return errOther
	case err == nil && !info.Mode().IsRegular():
		return writeInto(name, fill)
	case err == nil:
		if info.Mode().Perm()&0o222 == 0 {
			return fmt.Errorf("%s is read-only; allow writing or choose another name", text.Safe(name))
		}
		exists, mode = true, info.Mode().Perm()
		if target, err = filepath.EvalSymlinks(name); err != nil {
			return plainError("write", name, err)
		}
	case errors.Is(err, fs.ErrNotExist):
		if _, err := os.Lstat(name); err == nil {
			return fmt.Errorf("%s is a link to a file that does not exist; remove it or choose another name", text.Safe(name))
		}
		if !isDir(filepath.Dir(name)) {
			return fmt.Errorf("the folder %s does not exist; make it first", text.Safe(filepath.Dir(name)))
		}
		if os.IsPathSeparator(name[len(name)-1]) {
			return fmt.Errorf("%s is the name of a folder; name a file in it", text.Safe(name))
		}
	default:
		return plainError("write", name, err)
	}

	temp := filepath.Join(filepath.Dir(target), ".placketeer-"+rand.Text()+".tmp")
	begun(temp)
	defer ended(temp)
	f, err := os.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, mode)
	if err != nil {
		return plainError("write", name, err)
	}
	complete := false
	defer func() {
		if !complete { // an error or a panic
			f.Close()
			os.Remove(temp)
		}
	}()
	if err := fill(f); err != nil {
		return plainError("write", name, err)
	}
	if exists { // the mask must not take away what the file allowed
		if err := f.Chmod(mode); err != nil {
			return plainError("write", name, err)
		}
	}
	if err := f.Sync(); err != nil {
		return plainError("write", name, err)
	}
	if err := f.Close(); err != nil {
		return plainError("write", name, err)
	}
	if look != nil {
		if err := look(name); err != nil {
			return err
		}
	}
	half.Lock() // a signal comes before the new name or after it
	if look != nil && exchange(temp, target) {
		// What was there has the other name now: were it not what it was to be,
		// it goes back, so that a text written since the look is not lost.
		if err = look(temp); err != nil {
			exchange(temp, target)
		} else {
			err = os.Remove(temp)
		}
	} else {
		err = os.Rename(temp, target)
	}
	half.Unlock()
	if errors.Is(err, errOther) {
		return err
	}
	if err != nil {
		return plainError("write", name, err)
	}
	complete = true
	if dir, err := os.Open(filepath.Dir(target)); err == nil {
		dir.Sync() // the new name too; not every system can
		dir.Close()
	}
	return nil
}

func isPipe(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.Mode()&fs.ModeNamedPipe != 0
}

func isDir(name string) bool {
	info, err := os.Stat(name)
	return err == nil && info.IsDir()
}

// pipeWait is how long a pipe that nobody reads is waited for: whoever reads it
// may be about to begin.
var pipeWait = 3 * time.Second

func writeInto(name string, fill func(io.Writer) error) error {
	f, err := os.OpenFile(name, os.O_WRONLY|syscall.O_NONBLOCK, 0)
	for begin := time.Now(); errors.Is(err, syscall.ENXIO) && isPipe(name); f, err = os.OpenFile(name, os.O_WRONLY|syscall.O_NONBLOCK, 0) {
		if time.Since(begin) > pipeWait {
			return fmt.Errorf("%s: this is a pipe that nobody reads", text.Safe(name))
		}
		time.Sleep(20 * time.Millisecond)
	}
	if err != nil {
		return plainError("write", name, err)
	}
	err = fill(f)
	if e := f.Close(); err == nil {
		err = e
	}
	if err != nil {
		return plainError("write", name, err)
	}
	return nil
}

// plainError says in plain words why a file cannot be used.
func plainError(verb, name string, err error) error {
	return &fileError{text.Safe(name) + ": " + Reason(verb, err), err}
}

type fileError struct {
	text string
	err  error
}

func (e *fileError) Error() string { return e.text }
func (e *fileError) Unwrap() error { return e.err }

// Reason says in plain words why a file cannot be read or written: verb says
// which.
func Reason(verb string, err error) string {
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return "there is no such file"
	case errors.Is(err, fs.ErrPermission):
		return "you are not allowed to " + verb + " it"
	case errors.Is(err, syscall.ENOSPC), errors.Is(err, syscall.EDQUOT):
		return "the disk is full"
	case errors.Is(err, syscall.EPIPE):
		return "nobody reads it any more"
	case errors.Is(err, syscall.EFBIG):
		return "it becomes larger than this system allows"
	case errors.Is(err, syscall.EROFS):
		return "the disk is read-only"
	case errors.Is(err, syscall.ENAMETOOLONG):
		return "the name is too long"
	case errors.Is(err, os.ErrDeadlineExceeded), errors.Is(err, syscall.EAGAIN):
		return "it gives nothing to read, and waits for more"
	case errors.Is(err, syscall.EISDIR):
		return "this is a folder and not a file"
	case errors.Is(err, bufio.ErrTooLong):
		return "a line is longer than 64 kB"
	case errors.Is(err, syscall.ENOTDIR):
		return "a part of the name before the last is not a folder"
	}
	var path *fs.PathError
	if errors.As(err, &path) { // the path is the temporary file's
		err = path.Err
	}
	var link *os.LinkError
	if errors.As(err, &link) {
		err = link.Err
	}
	return "cannot " + verb + " it: " + text.Safe(err.Error())
}
