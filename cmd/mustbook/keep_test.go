package main

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"mustbook/store"
)

// cellar talks over one database file, as `mustbook chat` does.
type cellar struct {
	t    *testing.T
	path string
	now  time.Time
}

func (c *cellar) env(in string) (*environment, *bytes.Buffer) {
	out := &bytes.Buffer{}
	return &environment{In: strings.NewReader(in), Out: out, Err: out, Getenv: func(string) string { return "" }, Now: func() time.Time { return c.now }}, out
}

func (c *cellar) run(in string, args ...string) string {
	c.t.Helper()
	e, out := c.env(in)
	if err := run(context.Background(), e, args); err != nil {
		c.t.Fatalf("%v: %v\n%s", args, err, out)
	}
	return out.String()
}

func (c *cellar) chat(lines ...string) string {
	c.t.Helper()
	return c.run(strings.Join(lines, "\n")+"\n", "chat", "--db", c.path)
}

// A household that leaves is gone from the file, from its log, and where it asks from
// the nightly backups, which are counted first.
func TestForgottenEverywhere(t *testing.T) {
	c := &cellar{t: t, path: filepath.Join(t.TempDir(), "book.db"), now: time.Date(2026, 10, 3, 18, 0, 0, 0, time.UTC)}
	const secret = "quillfeather plum"
	c.chat("new damson 9 l", "note: "+secret, "sg 1.086 at 20c")
	e, _ := c.env("")
	for day := range 2 {
		p, err := open(t.Context(), e, c.path)
		if err != nil {
			t.Fatal(err)
		}
		if _, err := p.db.BackupNightly(t.Context(), backups(c.path), c.now.AddDate(0, 0, day)); err != nil {
			t.Fatal(err)
		}
		p.db.Close()
	}
	holds := func() []string {
		var out []string
		for _, f := range append(mustGlob(t, c.path+"*"), mustGlob(t, filepath.Join(backups(c.path), "*"))...) {
			if raw, err := os.ReadFile(f); err != nil || bytes.Contains(raw, []byte(secret)) {
				out = append(out, filepath.Base(f))
			}
		}
		return out
	}
	if got := holds(); len(got) < 3 {
		t.Fatalf("before, only %v hold it", got)
	}
	said := c.chat("forget everything", "Forget it", "Yes, forget all")
	if !strings.Contains(said, "2 nightly backups still hold it") {
		t.Errorf("said %q", said)
	}
	if got := holds(); len(got) != 2 {
		t.Errorf("now %v hold it", got)
	}
	c.now = c.now.Add(time.Minute)
	if said = c.chat("Forget there too"); !strings.Contains(said, "Forgotten in 2 backups too") {
		t.Errorf("said %q", said)
	}
	if got := holds(); len(got) != 0 {
		t.Errorf("in the end %v hold it", got)
	}
	if said = c.run("", "verify", filepath.Join(backups(c.path), "mustbook-2026-10-03.db")); !strings.Contains(said, "is sound: 0 entries") {
		t.Errorf("a cleared backup: %q", said)
	}
}

func mustGlob(t *testing.T, pattern string) []string {
	t.Helper()
	list, err := filepath.Glob(pattern)
	if err != nil {
		t.Fatal(err)
	}
	return list
}

// A backup made while messages come in is a whole book: what it holds verifies, and
// every message stands in it with all its entries or not at all.
func TestBackupWhileMessagesComeIn(t *testing.T) {
	c := &cellar{t: t, path: filepath.Join(t.TempDir(), "book.db"), now: time.Date(2026, 10, 3, 18, 0, 0, 0, time.UTC)}
	c.chat("new damson 9 l")
	var lines []string
	for range 300 {
		lines = append(lines, "ph 3.4, ta 6.1 g/l")
	}
	done := make(chan struct{})
	go func() {
		defer close(done)
		c.chat(lines...)
	}()
	var last int64
	for i := 0; ; i++ {
		to := filepath.Join(t.TempDir(), "copy.db")
		c.run("", "backup", to, "--db", c.path)
		r, err := store.Verify(t.Context(), to)
		if err != nil || !r.Sound() || r.Entries < last {
			t.Fatalf("copy %d: %+v, %v, after %d entries", i, r, err, last)
		}
		if (r.Entries-2)%2 != 0 { // a beginning and a volume, then two a message
			t.Errorf("copy %d holds half a message: %d entries", i, r.Entries)
		}
		last = r.Entries
		c.run("", "verify", to)
		select {
		case <-done:
			if last < 10 {
				t.Errorf("the last copy holds %d entries", last)
			}
			return
		default:
		}
	}
}

// Restore puts a copy in the place of nothing, and of something only when told; what
// was there stays beside it.
func TestRestoreRefuses(t *testing.T) {
	dir := t.TempDir()
	c := &cellar{t: t, path: filepath.Join(dir, "book.db"), now: time.Date(2026, 10, 3, 18, 0, 0, 0, time.UTC)}
	c.chat("new damson 9 l")
	copied := filepath.Join(dir, "copy.db")
	c.run("", "backup", copied, "--db", c.path)
	c.chat("new gorse 4 l")
	e, out := c.env("")
	if err := run(t.Context(), e, []string{"restore", copied, "--db", c.path}); err == nil || exitCode(out, err) != 1 {
		t.Errorf("over a database: %v", err)
	}
	if got := c.chat("list"); !strings.Contains(got, "gorse") {
		t.Errorf("refused, and yet the book lists %q", got)
	}
	c.run("", "restore", copied, "--db", c.path, "--force")
	if got := c.chat("list"); strings.Contains(got, "gorse") || !strings.Contains(got, "damson") {
		t.Errorf("restored, the book lists %q", got)
	}
	if _, err := os.Stat(c.path + ".before-restore"); err != nil {
		t.Error(err)
	}
	other := filepath.Join(dir, "other.db")
	c.run("", "restore", copied, "--db", other)
	if got := c.run("", "verify", other); !strings.Contains(got, "is sound: 2 entries, 1 batches folded") {
		t.Errorf("elsewhere: %q", got)
	}
}
