package main

import (
	"bytes"
	"database/sql"
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"

	_ "modernc.org/sqlite"
)

// mustBook is a database with a plum that was pitched two hours ago, at whatever time of
// the day that is.
func mustBook(t *testing.T) string {
	t.Helper()
	db := filepath.Join(t.TempDir(), "book.db")
	r := mustRun(t, "new plum 10 l\n1.085 20c 3 hours ago\npitched 2 hours ago\n", "chat", "--db", db)
	if r.code != 0 || strings.Count(r.out, "plum") < 3 {
		t.Fatalf("the book could not be made: %+v", r)
	}
	return db
}

// plumListed is the answer to list.
var plumListed = regexp.MustCompile(`1 plum: lag, 1\.085 (?:today|yesterday)(?:\n|$)`)

// listedLast reports that the last answer is that to list.
func listedLast(out string) bool {
	at := plumListed.FindAllStringIndex(out, -1)
	return len(at) > 0 && strings.TrimSpace(out[at[len(at)-1][1]:]) == ""
}

// entries are the entries of an exported book.
func entries(t *testing.T, db string) string {
	t.Helper()
	r := mustRun(t, "", "export", "--db", db)
	var doc struct {
		Batches []struct {
			Entries []json.RawMessage `json:"entries"`
		} `json:"batches"`
	}
	if err := json.Unmarshal([]byte(r.out), &doc); err != nil || r.code != 0 {
		t.Fatalf("export: %v, %+v", err, r)
	}
	var b strings.Builder
	for _, x := range doc.Batches {
		for _, e := range x.Entries {
			b.Write(e)
			b.WriteByte('\n')
		}
	}
	return b.String()
}

// What cannot be is answered in one clear answer that begins with a line about it, and
// nothing is in the book afterwards that was not there before.
func TestBadInputOverThePipe(t *testing.T) {
	db := mustBook(t)
	before := entries(t, db)
	var in strings.Builder
	cases := []struct{ text, says string }{
		{"1.62", "did you mean"},
		{"sg 0.52", "did you mean"},
		{"temp 66", "°C or °F?"},
		{"4 gal water", "US gallon"},
		{"1.070 on 3 may 2031", "on which day?"},
		{"1.035", "fell that far?"},
		{"1.095 20c", "went up?"},
		{"medlar 1.050", "for which batch?"},
		{"medlar racked", "for which batch?"},
		{strings.Repeat("sg 1.08 ", 1251), "Too long"},
		{"\x01\x02 \x1b[31m\x07", "Try:"},
		{"\u202e850.1 gs\u202c", "Try:"},
		{"שלום 1.080", "for which batch?"},
		{"'); DROP TABLE entry;--", "Try:"},
		{"<b>sg</b> <script>alert(1)</script>", "Try:"},
		{"\xff\xfe\xfa", "Try:"},
	}
	for _, c := range cases {
		in.WriteString(c.text + "\nlist\nLeave it out\nlist\n")
	}
	r := mustRun(t, in.String(), "chat", "--db", db)
	answers := plumListed.Split(r.out, -1)
	if r.code != 0 || r.err != "" || len(answers) != 2*len(cases)+1 {
		t.Fatalf("code %d, stderr %q, %d answers to %d messages:\n%s", r.code, r.err, len(answers), len(cases), r.out)
	}
	for i, c := range cases {
		lines := strings.Split(answers[2*i], "\n")
		if !strings.Contains(lines[0], c.says) {
			t.Errorf("%.40q: %q; want %q in the first line", c.text, lines[0], c.says)
		}
		for _, l := range lines {
			if len([]rune(l)) > 60 || strings.ContainsAny(l, "\x01\x02\x07\x1b\u202e\u202c") {
				t.Errorf("%.40q: the answer holds %q", c.text, l)
			}
		}
	}
	if after := entries(t, db); after != before {
		t.Errorf("the book has changed:\n%s", strings.TrimPrefix(after, before))
	}
}

// An answer to an open question must be one: a temperature or another wine's reading that
// comes after it is not the gravity that was asked for.
func TestNoFalseAnswerToAQuestion(t *testing.T) {
	db := mustBook(t)
	before := entries(t, db)
	mustRun(t, "sg 0.52\ntemp 66\nLeave it out\n", "chat", "--db", db)
	mustRun(t, "1.095 20c\nmedlar 1.050\nLeave it out\n", "chat", "--db", db)
	if after := entries(t, db); after != before {
		t.Errorf("stored:\n%s", strings.TrimPrefix(after, before))
	}
}

// Names made to break a database or a page are names: kept, harmless, and found again.
func TestNamesThatBreakThings(t *testing.T) {
	db := mustBook(t)
	r := mustRun(t, "rename plum to Robert'); DROP TABLE entry;--\nlist\nrename #1 to <b>x</b> & \u202ey\nlist\nundo\nundo\nlist\n", "chat", "--db", db)
	if r.code != 0 || strings.Contains(r.out, "\u202e") || !strings.Contains(r.out, "Robert')") || !listedLast(r.out) {
		t.Errorf("%+v", r)
	}
	if v := mustRun(t, "", "verify", db); v.code != 0 {
		t.Errorf("verify: %+v", v)
	}
}

// oneLineOnly reports a run that failed with a code and a single line on standard error.
func oneLineOnly(t *testing.T, r ended, code int, says string) {
	t.Helper()
	if r.code != code || strings.Count(r.err, "\n") != 1 || !strings.HasPrefix(r.err, "mustbook: ") || !strings.Contains(r.err, says) || r.out != "" {
		t.Errorf("code %d, stderr %q, stdout %q; want %d and one line with %q", r.code, r.err, r.out, code, says)
	}
}

// A file that may not be written is told of in one line.
func TestReadOnlyDatabase(t *testing.T) {
	db := mustBook(t)
	dir := filepath.Dir(db)
	before := entries(t, db)
	for _, f := range []string{db, db + ".lock"} {
		if err := os.Chmod(f, 0o444); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Chmod(dir, 0o555); err != nil {
		t.Fatal(err)
	}
	c := mustbook(0, "chat", "--db", db)
	if os.Getuid() == 0 { // root may write anything: nobody speaks instead
		for d := dir; len(d) > len(os.TempDir()); d = filepath.Dir(d) {
			if d != dir {
				if err := os.Chmod(d, 0o755); err != nil {
					t.Fatal(err)
				}
			}
		}
		all, err := os.ReadFile(c.Path)
		if err != nil {
			t.Fatal(err)
		}
		c.Path = filepath.Join(t.TempDir(), "mustbook") // where nobody may read it
		if err := os.WriteFile(c.Path, all, 0o755); err != nil {
			t.Fatal(err)
		}
		c.SysProcAttr = &syscall.SysProcAttr{Credential: &syscall.Credential{Uid: 65534, Gid: 65534}}
	}
	r := mustEnd(t, c, "1.080 20c\n")
	for _, f := range []string{dir, db, db + ".lock"} {
		if err := os.Chmod(f, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	oneLineOnly(t, r, 1, "cannot be written")
	if after := entries(t, db); after != before {
		t.Error("the book has changed")
	}
}

// A database that another program holds, ours or not, is left alone.
func TestLockedDatabase(t *testing.T) {
	db := mustBook(t)
	first := mustbook(0, "chat", "--db", db)
	in, err := first.StdinPipe()
	if err != nil {
		t.Fatal(err)
	}
	out, err := first.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := first.Start(); err != nil {
		t.Fatal(err)
	}
	fmt.Fprintln(in, "list")
	if _, err := out.Read(make([]byte, 1)); err != nil { // it has answered: it holds the file
		t.Fatal(err)
	}
	oneLineOnly(t, mustRun(t, "list\n", "chat", "--db", db), 1, "running on this database already")
	in.Close()
	if err := first.Wait(); err != nil {
		t.Errorf("the first ended with %v", err)
	}
	defer held(t, db, "PRAGMA locking_mode = EXCLUSIVE; BEGIN EXCLUSIVE")()
	oneLineOnly(t, mustRun(t, "list\n", "chat", "--db", db), 1, "another program holds the database")
}

// A database of a later version of the program ends with code 2 and is not touched.
func TestNewerDatabase(t *testing.T) {
	db := mustBook(t)
	other, err := sql.Open("sqlite", db)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := other.Exec("INSERT INTO goose_db_version (version_id, is_applied) VALUES (99999, 1)"); err != nil {
		t.Fatal(err)
	}
	if err := other.Close(); err != nil {
		t.Fatal(err)
	}
	before, err := os.ReadFile(db)
	if err != nil {
		t.Fatal(err)
	}
	oneLineOnly(t, mustRun(t, "1.080 20c\n", "chat", "--db", db), 2, "newer than this program")
	if after, err := os.ReadFile(db); err != nil || !bytes.Equal(before, after) {
		t.Errorf("the file has changed (%v)", err)
	}
}

// Where nothing more can be written each message is told to be not saved, and what was
// said to be saved is there: no more and no less.
func TestFullDisk(t *testing.T) {
	db := mustBook(t)
	size, err := os.Stat(db)
	if err != nil {
		t.Fatal(err)
	}
	var in strings.Builder
	for i := range 400 {
		fmt.Fprintf(&in, "note: pear %d %s\n", i, strings.Repeat("drop ", 60))
	}
	// The log of the database meets the limit first.
	r := mustEnd(t, mustbook(size.Size()+32<<10, "chat", "--db", db), in.String())
	saved, failed := strings.Count(r.out, "“pear"), strings.Count(r.out, "Not saved: the disk")
	if failed == 0 || strings.Contains(r.err, "goroutine") {
		t.Fatalf("code %d, %d saved, %d not, stderr %.300q", r.code, saved, failed, r.err)
	}
	if kept := strings.Count(entries(t, db), "pear "); kept != saved {
		t.Errorf("%d notes were said to be kept, %d are in the book", saved, kept)
	}
	if v := mustRun(t, "", "verify", db); v.code != 0 {
		t.Errorf("verify: %+v", v)
	}
}

// A pipe that ends in the middle of a line gives that line its answer; one whose reader has
// gone ends the program; the book is sound both times.
func TestPipeEndsInTheMiddle(t *testing.T) {
	db := mustBook(t)
	if r := mustRun(t, "status\nlist", "chat", "--db", db); r.code != 0 || !listedLast(r.out) {
		t.Errorf("%+v", r)
	}
	if r := mustRun(t, "1.0", "chat", "--db", db); r.code != 0 || r.out == "" {
		t.Errorf("half a gravity: %+v", r)
	}
	c := mustbook(0)
	c.Path, c.Args = "/bin/sh", []string{"/bin/sh", "-c", "(echo list; echo 'note: pears'; echo list) | \"$0\" chat --db \"$1\" | head -c 3", os.Args[0], db}
	mustEnd(t, c, "")
	before := entries(t, db)
	if strings.Count(before, `"typed":"1.085"`) != 1 || strings.Contains(before, `"1.0"`) {
		t.Errorf("in the book:\n%s", before)
	}
	if v := mustRun(t, "", "verify", db); v.code != 0 {
		t.Errorf("verify: %+v", v)
	}
}
