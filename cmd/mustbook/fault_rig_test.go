package main

import (
	"bytes"
	"fmt"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"mustbook/bot/telegram/loopback"
	"mustbook/ferment"
	"mustbook/store"
)

const hostCode = "aaaabbbbccccdddd"

// household is a platform, a database and a program between them.
type household struct {
	t    *testing.T
	s    *loopback.Server
	path string
	nora *loopback.User
	mu   sync.Mutex
	at   time.Time
	out  *said
	cmd  *exec.Cmd
}

// said is what a program printed so far.
type said struct {
	mu    sync.Mutex
	b     bytes.Buffer
	fresh chan struct{} // closed at the next write
}

func newSaid() *said { return &said{fresh: make(chan struct{})} }

// Write implements io.Writer.
func (s *said) Write(p []byte) (int, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	close(s.fresh)
	s.fresh = make(chan struct{})
	return s.b.Write(p)
}

func (s *said) now() (string, <-chan struct{}) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.b.String(), s.fresh
}

// String implements fmt.Stringer.
func (s *said) String() string { text, _ := s.now(); return text }

// newHousehold has a book with one batch, and no program that runs. dir is where
// the database lies.
func newHousehold(t *testing.T, dir string) *household {
	t.Helper()
	h := &household{t: t, path: filepath.Join(dir, "book.db"), at: time.Now().Add(-40 * time.Hour)}
	h.s = loopback.New(loopback.Options{Now: func() time.Time {
		h.mu.Lock()
		defer h.mu.Unlock()
		h.at = h.at.Add(5 * time.Second)
		return h.at
	}})
	t.Cleanup(h.s.Close)
	h.begin(0)
	h.nora = h.s.Person("nora")
	h.nora.Start(hostCode)
	h.nora.Private().WaitBot(t, 1)
	h.nora.Say(h.nora.Private(), "new damson 23 l")
	h.nora.Private().WaitBot(t, 2)
	h.end()
	return h
}

// run makes a command of the program.
func (h *household) run(limit int64, args ...string) *exec.Cmd {
	c := mustbook(limit, args...)
	c.Env = append(c.Env, "MUSTBOOK_DB="+h.path, "TELEGRAM_API_URL="+h.s.URL(),
		"TELEGRAM_BOT_TOKEN="+loopback.Token, "MUSTBOOK_KEEPER_CODE="+hostCode)
	return c
}

// begin starts serve; no file may grow beyond limit bytes, 0 for any size.
func (h *household) begin(limit int64) {
	h.t.Helper()
	h.cmd, h.out = h.run(limit, "serve"), newSaid()
	h.cmd.Stdout, h.cmd.Stderr = h.out, h.out
	if err := h.cmd.Start(); err != nil {
		h.t.Fatal(err)
	}
	h.t.Cleanup(func() { h.cmd.Process.Kill() })
}

// end asks it to stop; it must do so in good order.
func (h *household) end() {
	h.t.Helper()
	h.cmd.Process.Signal(syscall.SIGTERM)
	if err := h.cmd.Wait(); err != nil {
		h.t.Errorf("SIGTERM: %v\n%s", err, h.out)
	}
}

// read says that many readings, all different, in a calm pace by the platform's clock.
func (h *household) read(from, n int) {
	for i := range n {
		h.nora.Say(h.nora.Private(), fmt.Sprintf("#1 note the airlock at look %03d %s", from+i, strings.Repeat("· ", 250)))
	}
}

// printed waits for the program to say something.
func (h *household) printed(what string) {
	h.t.Helper()
	late := time.NewTimer(30 * time.Second)
	defer late.Stop()
	for {
		text, fresh := h.out.now()
		if strings.Contains(text, what) {
			return
		}
		select {
		case <-fresh:
		case <-late.C:
			h.t.Fatalf("the program never printed %q, but %q", what, text)
		}
	}
}

// notes counts the notes of the book by their text.
func (h *household) notes() (map[string]int, error) {
	ctx := h.t.Context()
	db, err := store.Open(ctx, h.path, store.Options{ReadOnly: true})
	if err != nil {
		return nil, err
	}
	defer db.Close()
	times := map[string]int{}
	err = db.View(ctx, func(tx *store.Tx) error {
		es, err := tx.Entries(1, 1)
		for _, e := range es {
			if e.Quantity == ferment.QNote {
				times[e.Text]++
			}
		}
		return err
	})
	return times, err
}

// kept waits until n notes are in the book. Their answers may come later, for they
// go out no faster than one a second.
func (h *household) kept(n int) {
	h.t.Helper()
	h.s.Wait(h.t, fmt.Sprint(n, " notes in the book"), func() bool {
		times, err := h.notes()
		return err == nil && len(times) >= n
	})
}

// holds checks that the file is sound and has each of the n notes once.
func (h *household) holds(n int) {
	h.t.Helper()
	if r, err := store.Verify(h.t.Context(), h.path); err != nil || !r.Sound() {
		h.t.Fatalf("%+v, %v", r, err)
	}
	times, err := h.notes()
	if err != nil || len(times) != n {
		h.t.Errorf("%d notes, want %d, %v\n%s", len(times), n, err, h.out)
	}
	for text, k := range times {
		if k != 1 {
			h.t.Errorf("%q stands %d times", text, k)
		}
	}
}
