package main

import (
	"archive/zip"
	"bytes"
	"encoding/csv"
	"io"
	"os"
	"path/filepath"
	"testing"
	"time"
)

// `export --format csv` to a pipe is one zip file (PKWARE's format, which every desktop
// opens) with the three tables that a folder gets.
func TestTablesThroughAPipe(t *testing.T) {
	c := &cellar{t: t, path: filepath.Join(t.TempDir(), "book.db"), now: time.Date(2026, 10, 3, 18, 0, 0, 0, time.UTC)}
	c.chat("new damson 9 l", "sg 1.086 at 20c", "=1+2 is no note", "note: =1+2")
	raw := c.run("", "export", "--db", c.path, "--format", "csv", "--to", "-")
	z, err := zip.NewReader(bytes.NewReader([]byte(raw)), int64(len(raw)))
	if err != nil {
		t.Fatal(err)
	}
	if len(z.File) != 3 {
		t.Fatalf("%d files in it", len(z.File))
	}
	folder := t.TempDir()
	c.run("", "export", "--db", c.path, "--format", "csv", "--to", folder)
	rows := map[string]int{}
	for _, f := range z.File {
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		got, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		want, err := os.ReadFile(filepath.Join(folder, f.Name))
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s through a pipe:\n%s\nin a folder:\n%s", f.Name, got, want)
		}
		table, err := csv.NewReader(bytes.NewReader(got)).ReadAll()
		if err != nil {
			t.Errorf("%s: %v", f.Name, err)
		}
		rows[f.Name] = len(table) - 1
	}
	if rows["batches.csv"] != 1 || rows["bottles.csv"] != 0 || rows["entries.csv"] < 4 {
		t.Errorf("rows: %v", rows)
	}
}
