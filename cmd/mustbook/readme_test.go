package main

import (
	"bytes"
	"context"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
)

var updateReadme = flag.Bool("update-readme", false, "rewrite the output in the README's transcript")

const readme = "../../README.md"

// transcript cuts the README around the expected output: everything before it,
// the replay file, the output, everything behind it.
func transcript(t *testing.T, page string) (before, story, want, after string) {
	t.Helper()
	head, rest, ok := strings.Cut(page, "```replay\n")
	story, rest, ok2 := strings.Cut(rest, "```\n")
	between, rest, ok3 := strings.Cut(rest, "```\n")
	want, after, ok4 := strings.Cut(rest, "```\n")
	if !ok || !ok2 || !ok3 || !ok4 {
		t.Fatal("README.md: no replay block with its output")
	}
	return head + "```replay\n" + story + "```\n" + between + "```\n", story, want, "```\n" + after
}

// TestReadmeTranscript plays the README's conversation with the command that the
// README names and compares what it prints, so that the page cannot drift.
func TestReadmeTranscript(t *testing.T) {
	page, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	before, story, want, after := transcript(t, string(page))
	file := filepath.Join(t.TempDir(), "evening.txt")
	if err := os.WriteFile(file, []byte(story), 0o600); err != nil {
		t.Fatal(err)
	}
	var out, errs bytes.Buffer
	e := &environment{In: strings.NewReader(""), Out: &out, Err: &errs, Getenv: func(string) string { return "" }, Now: time.Now}
	if err := run(context.Background(), e, []string{"replay", file}); err != nil {
		t.Fatalf("%v\n%s", err, errs.String())
	}
	got := strings.Trim(out.String(), "\n") + "\n"
	if *updateReadme {
		if err := os.WriteFile(readme, []byte(before+got+after), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("README.md transcript (-page +program):\n%s", d)
	}
}

// TestReadmeCommands holds the two commands on lines of their own, since people
// and the checks copy them from there.
func TestReadmeCommands(t *testing.T) {
	page, err := os.ReadFile(readme)
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range []string{"go run ./cmd/mustbook chat", "go test ./..."} {
		if !strings.Contains(string(page), "\n```\n"+line+"\n```\n") {
			t.Errorf("README.md has no fenced line %q", line)
		}
	}
	for _, c := range commands() {
		if !strings.Contains(string(page), "| `mustbook "+c.name) {
			t.Errorf("README.md does not list %s", c.name)
		}
	}
}
