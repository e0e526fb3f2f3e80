package main

import (
	"fmt"
	"os"
	"syscall"
)

// offMemory has the system forget the pages of a file, so that they are read from the
// disk the next time. What is written and not on the disk yet stays.
func offMemory(path string) error {
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	if err := f.Sync(); err != nil {
		return err
	}
	const dontNeed = 4 // POSIX_FADV_DONTNEED of posix_fadvise(2)
	if _, _, e := syscall.Syscall6(syscall.SYS_FADVISE64, f.Fd(), 0, 0, dontNeed, 0, 0); e != 0 {
		return e
	}
	return nil
}

// input is what this process has read so far: how often, which for SQLite is once a
// page, and how much of it came from a disk.
func input() (times, bytes int64, err error) {
	b, err := os.ReadFile("/proc/self/io")
	if err != nil {
		return 0, 0, err
	}
	var skip int64
	_, err = fmt.Sscanf(string(b), "rchar: %d\nwchar: %d\nsyscr: %d\nsyscw: %d\nread_bytes: %d", &skip, &skip, &times, &skip, &bytes)
	return times, bytes, err
}
