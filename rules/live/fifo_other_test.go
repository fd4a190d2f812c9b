//go:build !unix

package live

import "errors"

func mkfifo(string) error { return errors.ErrUnsupported }
