package trial

import (
	"errors"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// FullDisk is a folder on a disk of its own that holds nothing but a file of
// that name and text, and is full but for so many pages of 4 KiB. Only root may
// make one: for anybody else the test is skipped.
func FullDisk(t *testing.T, name, text string, free int64) (file string) {
	t.Helper()
	const size, page = "size=256k", 4096
	if os.Geteuid() != 0 {
		t.Skip("only root can make a small disk")
	}
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, size); err != nil {
		t.Skipf("no small disk can be made: %v", err)
	}
	t.Cleanup(func() {
		if err := syscall.Unmount(dir, syscall.MNT_DETACH); err != nil {
			t.Error(err)
		}
	})
	file = filepath.Join(dir, name)
	if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	f, err := os.Create(filepath.Join(dir, "filler"))
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	for n := int64(0); ; n += page {
		if _, err := f.Write(make([]byte, page)); errors.Is(err, syscall.ENOSPC) {
			if err := f.Truncate(n - free*page); err != nil {
				t.Fatal(err)
			}
			return file
		} else if err != nil {
			t.Fatal(err)
		}
	}
}
