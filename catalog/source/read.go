package source

import (
	"fmt"
	"io"
	"io/fs"
	"os"
	"runtime"
	"syscall"
	"time"
)

// ReadFile reads a file whole: a regular one, or a link to one, of at most
// MaxSize bytes. A folder, pipe or device is refused before it is opened, for
// to open a pipe is to wait for its writer, and a device may have no end.
// Every error is of type Problems.
func ReadFile(name string) ([]byte, error) {
	info, err := os.Stat(name)
	if err != nil {
		return nil, unreadable(name, Reason("read", err))
	}
	if says := irregular(info.Mode()); says != "" {
		return nil, unreadable(name, says)
	}
	if info.Size() > MaxSize {
		return nil, tooLarge(name, fmt.Sprint(info.Size()))
	}
	// Between the look and the opening another file may have taken the name, and
	// some files of the system wait for what is to come.
	flag := os.O_RDONLY
	if runtime.GOOS != "windows" {
		flag |= syscall.O_NONBLOCK
	}
	f, err := os.OpenFile(name, flag, 0)
	if err != nil {
		return nil, unreadable(name, Reason("read", err))
	}
	defer f.Close()
	if info, err = f.Stat(); err != nil {
		return nil, unreadable(name, Reason("read", err))
	}
	if says := irregular(info.Mode()); says != "" {
		return nil, unreadable(name, says)
	}
	f.SetReadDeadline(time.Now().Add(readWait)) // of what waits; others have none
	return ReadAll(name, f)
}

// readWait is how long a file is waited for that gives nothing.
const readWait = 2 * time.Second

// ReadAll reads what r gives, at most MaxSize bytes and little more than that
// of a longer one; name is for messages. Every error is of type Problems.
func ReadAll(name string, r io.Reader) ([]byte, error) {
	data, err := io.ReadAll(io.LimitReader(r, MaxSize+1))
	switch {
	case err != nil:
		return nil, unreadable(name, Reason("read", err))
	case len(data) > MaxSize:
		return nil, tooLarge(name, fmt.Sprint("more than ", MaxSize))
	}
	return data, nil
}

// irregular says what is no file that can be read whole, "" of one that can.
func irregular(m fs.FileMode) string {
	switch {
	case m.IsDir():
		return "this is a folder; name a file in it"
	case m.IsRegular():
		return ""
	case m&fs.ModeNamedPipe != 0:
		return "this is a pipe and not a file; send it to the standard input, which is named -"
	case m&fs.ModeDevice != 0:
		return "this is a device and not a file"
	}
	return "this is not a file that can be read whole"
}

func unreadable(name, message string) Problems {
	return Problems{{Pos: Pos{File: name}, Width: 1, Message: message}}
}

func tooLarge(name, bytes string) Problems {
	return Problems{{Pos: Pos{File: name}, Message: fmt.Sprintf("the file has %s bytes, and at most %d are read", bytes, MaxSize)}}
}
