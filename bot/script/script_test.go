package script

import (
	"context"
	"crypto/rand"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"mustbook/bot"
	"mustbook/schedule/runner"
	"mustbook/store"
)

var update = flag.Bool("update", false, "rewrite the lines of the bot in the stories")

// TestScript plays every story and compares each word of the bot with what the
// story expects.
func TestScript(t *testing.T) {
	files, err := filepath.Glob("../../testdata/script/*.txt")
	if err != nil || len(files) < 12 {
		t.Fatalf("%d stories, %v", len(files), err)
	}
	for _, f := range files {
		t.Run(strings.TrimSuffix(filepath.Base(f), ".txt"), func(t *testing.T) { play(t, f) })
	}
}

func mustOpen(t *testing.T, path string) *store.DB {
	t.Helper()
	db, err := store.Open(context.Background(), path, store.Options{Now: time.Now, Rand: rand.Reader})
	if err != nil {
		t.Fatal(err)
	}
	return db
}

// mustRunner is the runner over the player's database, which a restart changes.
func mustRunner(t *testing.T, p *Player) *runner.Runner {
	t.Helper()
	r, err := runner.New(p.DB, runner.Options{Now: time.Now,
		Hand: func(ctx context.Context, tx *store.Tx, book int64, _ []store.Subject, now time.Time) error {
			return p.Bot.Remind(ctx, tx, book, now)
		}})
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// mustPlayer is a player of a story over a database of its own, with the text that it
// was read from.
func mustPlayer(t *testing.T, file string) (p *Player, path, raw string) {
	t.Helper()
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	story, err := Parse(string(text), time.LoadLocation)
	if err != nil {
		t.Fatal(err)
	}
	path = filepath.Join(t.TempDir(), "book.db")
	p = &Player{Bot: &bot.Bot{Zone: time.LoadLocation, Default: story.Zone, Rand: rand.Reader}, Story: story, DB: mustOpen(t, path)}
	p.Tick = func(ctx context.Context, now time.Time) error { return mustRunner(t, p).Tick(ctx, now) }
	return p, path, string(text)
}

func play(t *testing.T, file string) {
	p, path, raw := mustPlayer(t, file)
	p.Tests = true
	story := p.Story
	p.Reopen = func(_ context.Context, db *store.DB) (*store.DB, error) {
		return mustOpen(t, path), db.Close()
	}
	p.Check = func(name, want string, got []string) error {
		if d := cmp.Diff(strings.Fields(want), strings.Fields(strings.Join(got, "\n"))); d != "" {
			t.Errorf("check %s (-want +got):\n%s", name, d)
		}
		return nil
	}
	var heard []string
	here := ""
	p.Say = func(s Said) error {
		if s.From == "bot" {
			heard = append(heard, expectation(s, here)...)
		}
		return nil
	}
	ctx := context.Background()
	if err := p.begin(ctx); err != nil {
		t.Fatal(err)
	}
	got := map[int][]string{}
	for _, s := range story.Steps {
		heard, here = nil, s.Chat
		if err := p.Step(ctx, s); err != nil {
			t.Fatalf("line %d: %v", s.Line, err)
		}
		if len(heard) == 0 {
			heard = []string{"bot silent"}
		}
		got[s.Line] = heard
	}
	if err := p.DB.Close(); err != nil {
		t.Fatal(err)
	}
	if *update {
		rewrite(t, file, raw, story, got)
		return
	}
	for _, s := range story.Steps {
		if d := cmp.Diff(s.Expect, got[s.Line]); d != "" {
			t.Errorf("%s:%d: (-want +got)\n%s", filepath.Base(file), s.Line, d)
		}
	}
}

// expectation writes what the bot said as a story expects it.
func expectation(s Said, here string) []string {
	if s.Reaction != "" && s.Text == "" {
		return []string{"bot reacts " + s.Reaction}
	}
	head := "bot> "
	switch {
	case !s.Edits.IsZero():
		head = "bot edits> "
	case s.Chat != here:
		head = "bot in " + s.Chat + "> "
	}
	lines := strings.Split(s.Text, "\n")
	out := []string{head + lines[0]}
	for _, l := range lines[1:] {
		out = append(out, "   | "+l)
	}
	if len(s.Buttons) > 0 {
		out = append(out, "   | ["+strings.Join(s.Buttons, "] [")+"]")
	}
	return out
}

func rewrite(t *testing.T, file, src string, story *Story, got map[int][]string) {
	t.Helper()
	steps := map[int]bool{}
	for _, s := range story.Steps {
		steps[s.Line] = true
	}
	var out []string
	files := false
	for i, l := range strings.Split(strings.TrimRight(src, "\n"), "\n") {
		files = files || strings.HasPrefix(l, "-- ")
		if !files && (strings.HasPrefix(l, "bot") || strings.HasPrefix(l, "   |")) {
			continue
		}
		out = append(out, l)
		if steps[i+1] {
			out = append(out, got[i+1]...)
		}
	}
	if err := os.WriteFile(file, []byte(strings.Join(out, "\n")+"\n"), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestBadLines: a line that cannot be read is told by its number.
func TestBadLines(t *testing.T) {
	for _, c := range []struct {
		src  string
		line int
	}{
		{"2026-01-02 10:00 mo: hi\n2026-01-01 10:00 mo: hi", 2},
		{"zone Nowhere/Land", 1},
		{"units stone", 1},
		{"hello", 1},
		{"2026-01-02 1000 mo: hi", 1},
		{"2026-01-02 10:00 mo presses Undo", 1},
		{"2026-01-02 10:00 mo frobs", 1},
	} {
		_, err := Parse(c.src, time.LoadLocation)
		bad, ok := err.(*BadLine)
		if !ok || bad.Line != c.line {
			t.Errorf("%q: %v, want line %d", c.src, err, c.line)
		}
	}
}
