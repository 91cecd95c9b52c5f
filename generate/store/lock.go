package store

import (
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
)

// acquire takes the folder's lock file. The system itself frees the lock of a
// process that died, however it died, so a stale file does no harm: it is taken
// over. The process number inside is for the message only.
func acquire(root *os.Root, dir string) (*os.File, error) {
	for range 100 { // each round lost means that another run just ended
		f, err := root.OpenFile(lockName, os.O_RDWR|os.O_CREATE, 0o644)
		if err != nil {
			return nil, classify("lock", dir, err)
		}
		free, err := tryLock(f)
		if err != nil {
			f.Close()
			return nil, classify("lock", dir, err)
		}
		if !free {
			defer f.Close()
			return nil, busy(f, dir)
		}
		if current(root, f) {
			f.Truncate(0)
			f.WriteAt([]byte(strconv.Itoa(os.Getpid())+"\n"), 0)
			return f, nil
		}
		f.Close()
	}
	return nil, &UserError{dir, "is in use by other runs", "try again, or name another folder with -o"}
}

// current reports whether f still is the lock file: the run that held it may
// have removed it between our opening and our locking.
func current(root *os.Root, f *os.File) bool {
	held, err := f.Stat()
	if err != nil {
		return false
	}
	named, err := root.Lstat(lockName)
	return err == nil && os.SameFile(held, named)
}

func busy(f *os.File, dir string) error {
	who := "another run"
	if b, err := io.ReadAll(io.LimitReader(f, 20)); err == nil && len(b) > 0 {
		who = fmt.Sprintf("another run (process %s)", strings.TrimSpace(string(b)))
	}
	return &UserError{dir, "is in use by " + who, "wait for it to end, or name another folder with -o"}
}

// release removes the lock file while the lock is still held, then lets go.
func release(root *os.Root, f *os.File) {
	if f == nil {
		return
	}
	root.Remove(lockName)
	f.Close()
}
