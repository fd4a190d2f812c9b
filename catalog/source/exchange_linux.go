package source

import "golang.org/x/sys/unix"

// exchange has two files take each other's names at once; false where the
// system or the disk cannot.
func exchange(a, b string) bool {
	return unix.Renameat2(unix.AT_FDCWD, a, unix.AT_FDCWD, b, unix.RENAME_EXCHANGE) == nil
}
