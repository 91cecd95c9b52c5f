//go:build !(darwin || dragonfly || freebsd || linux || netbsd || openbsd)

package store

import "os"

// tryLock takes the lock if no process wrote its number into the file. After a
// crash the file has to be removed by hand.
func tryLock(f *os.File) (bool, error) {
	info, err := f.Stat()
	return err == nil && info.Size() == 0, err
}
