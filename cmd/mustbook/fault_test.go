package main

import (
	"bytes"
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"
)

// TestDiskFull: the file may grow no further while people write. What cannot be
// stored stays with the platform; when there is room again, all of it is kept, once.
func TestDiskFull(t *testing.T) {
	t.Parallel()
	h := newHousehold(t, t.TempDir())
	h.begin(160 << 10) // a few commits of the log beside the database
	h.read(0, 55)
	h.printed("can't be")
	for _, bad := range []string{"panic", "goroutine "} {
		if strings.Contains(h.out.String(), bad) {
			t.Errorf("the program printed %s", h.out)
		}
	}
	h.cmd.Process.Kill()
	h.cmd.Wait()
	h.begin(0)
	h.kept(55)
	h.end()
	h.holds(55)
}

// TestSmallFileSystem is TestDiskFull on a file system that is really full.
func TestSmallFileSystem(t *testing.T) {
	dir := t.TempDir()
	if err := syscall.Mount("tmpfs", dir, "tmpfs", 0, "size=8m"); err != nil {
		t.Skip("no right to mount a small file system: ", err)
	}
	t.Cleanup(func() { syscall.Unmount(dir, syscall.MNT_DETACH) })
	h := newHousehold(t, dir)
	fill, err := os.Create(filepath.Join(dir, "jam"))
	if err != nil {
		t.Fatal(err)
	}
	h.begin(0)
	h.read(0, 5)
	h.kept(5)
	for block := make([]byte, 4096); err == nil; {
		_, err = fill.Write(block)
	}
	if !errors.Is(err, syscall.ENOSPC) {
		t.Fatal(err)
	}
	h.read(5, 50)
	h.printed("can't be")
	if fill.Truncate(0) != nil || fill.Close() != nil {
		t.Fatal("the disk stays full")
	}
	h.kept(55) // the very same run goes on
	h.end()
	h.holds(55)
}

// TestLockedByAnother: another program writes for longer than ours waits.
func TestLockedByAnother(t *testing.T) {
	t.Parallel()
	h := newHousehold(t, t.TempDir())
	h.begin(0)
	h.read(0, 2)
	h.kept(2)
	release := held(t, h.path, "BEGIN EXCLUSIVE")
	h.read(2, 10)
	h.printed("another program holds the database")
	release()
	h.kept(12)
	h.end()
	h.holds(12)
}

// TestStartRefused: each ends in one clear line and leaves the file as it was.
func TestStartRefused(t *testing.T) {
	t.Parallel()
	h := newHousehold(t, t.TempDir())
	sound, err := os.ReadFile(h.path)
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name string
		file []byte
		mode os.FileMode
		want string
		code int
	}{
		{"write-protected", sound, 0o400, "cannot be written", 1},
		{"not a database", []byte("sg 1.048 at 20c, and more than the header of a database would be in length, or so it seems to me here"), 0o600, "not a sound database", 1},
		{"cut in the middle", sound[:len(sound)/2], 0o600, "not a sound database", 1},
		{"its first page overwritten", append(bytes.Repeat([]byte{0xa5}, 4096), sound[4096:]...), 0o600, "not a sound database", 1},
		{"another program's", foreign(sound), 0o600, "another program's database", 1},
	} {
		h.path = filepath.Join(t.TempDir(), "book.db")
		if err := os.WriteFile(h.path, c.file, c.mode); err != nil {
			t.Fatal(err)
		}
		text, err := h.run(0, "serve").CombinedOutput()
		var exit *exec.ExitError
		if !errors.As(err, &exit) || exit.ExitCode() != c.code {
			t.Errorf("%s: ended with %v, want code %d", c.name, err, c.code)
		}
		if lines := strings.Split(strings.TrimSpace(string(text)), "\n"); len(lines) != 1 || !strings.Contains(lines[0], c.want) {
			t.Errorf("%s: printed %q, want one line with %q", c.name, text, c.want)
		}
		if after, err := os.ReadFile(h.path); err != nil || !bytes.Equal(after, c.file) {
			t.Errorf("%s: the file was changed, %v", c.name, err)
		}
	}
}

// foreign gives a database another program's id: the four bytes at offset 68 of the
// header (SQLite, "Database File Format", 1.3).
func foreign(db []byte) []byte {
	db = bytes.Clone(db)
	copy(db[68:72], "beer")
	return db
}

// TestSecondServe: two programs on one file would answer twice.
func TestSecondServe(t *testing.T) {
	t.Parallel()
	h := newHousehold(t, t.TempDir())
	h.begin(0)
	h.read(0, 1)
	h.kept(1)
	text, err := h.run(0, "serve").CombinedOutput()
	if err == nil || !strings.Contains(string(text), "mustbook is running on this database already") {
		t.Errorf("a second one: %v, %s", err, text)
	}
	h.read(1, 1)
	h.kept(2)
	h.end()
	h.holds(2)
}
