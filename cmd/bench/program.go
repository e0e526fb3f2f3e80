package main

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"time"

	"mustbook/bot/telegram/loopback"
)

// build makes the program once a run, as the README says, with args beside.
func (b *bench) build(ctx context.Context) (string, error) {
	if b.binary != "" {
		return b.binary, nil
	}
	out := b.file("mustbook")
	b.binary = out
	return out, goBuild(ctx, out, "./cmd/mustbook")
}

func goBuild(ctx context.Context, out, pkg string) error {
	c := exec.CommandContext(ctx, "go", "build", "-o", out, pkg)
	c.Env = append(os.Environ(), "CGO_ENABLED=0")
	if said, err := c.CombinedOutput(); err != nil {
		return fmt.Errorf("go build %s (from the root of the tree?): %w: %s", pkg, err, said)
	}
	return nil
}

// hearing measures `hear --json` on one core with the lines of the tree's corpus.
// Its baseline decodes and encodes the same lines and understands nothing.
func hearing(ctx context.Context, b *bench) error {
	lines, err := corpus(filepath.Join("testdata", "ear", "*.jsonl"))
	if err != nil {
		return err
	}
	bin, err := b.build(ctx)
	if err != nil {
		return err
	}
	n := b.size(60_000, 2_000)
	var in bytes.Buffer
	for i := range n {
		in.Write(lines[i%len(lines)])
		in.WriteByte('\n')
	}
	base := time.Now()
	for i := range n {
		var v map[string]any
		if err := json.Unmarshal(lines[i%len(lines)], &v); err != nil {
			return err
		}
		if _, err := json.Marshal(v); err != nil {
			return err
		}
	}
	baseline := time.Since(base)
	c := exec.CommandContext(ctx, bin, "hear", "--json")
	c.Env = append(os.Environ(), "GOMAXPROCS=1")
	var out bytes.Buffer
	c.Stdin, c.Stdout = &in, &out
	begin := time.Now()
	if err := c.Run(); err != nil && !isExit(err) { // 1: a line was no message, as some of the corpus are
		return err
	}
	took := time.Since(begin)
	if got := bytes.Count(out.Bytes(), []byte("\n")); got != n {
		return fmt.Errorf("%d lines of %d came back", got, n)
	}
	b.add("hear --json, messages on one core", rate(n, took), "≥ 20,000/s", "the same JSON through encoding/json alone: "+rate(n, baseline))
	return nil
}

func isExit(err error) bool { var e *exec.ExitError; return errors.As(err, &e) }

// corpus reads the messages of files whose lines have them under "in".
func corpus(pattern string) ([][]byte, error) {
	files, err := filepath.Glob(pattern)
	if err != nil || len(files) == 0 {
		return nil, fmt.Errorf("no %s: run it from the root of the tree", pattern)
	}
	var out [][]byte
	for _, f := range files {
		data, err := os.ReadFile(f)
		if err != nil {
			return nil, err
		}
		for _, l := range bytes.Split(data, []byte("\n")) {
			var c struct {
				In json.RawMessage `json:"in"`
			}
			if json.Unmarshal(l, &c) == nil && json.Valid(c.In) && bytes.HasPrefix(c.In, []byte("{")) {
				out = append(out, c.In)
			}
		}
	}
	return out, nil
}

// least is the smallest program that polls: what start, memory and size cost
// before a line of ours.
const least = `package main

import (
	"net/http"
	"os"
	"strings"
)

func main() {
	for {
		r, err := http.Post(os.Getenv("TELEGRAM_API_URL")+"/bot"+os.Getenv("TELEGRAM_BOT_TOKEN")+"/getUpdates", "application/json", strings.NewReader("{\"timeout\":50}"))
		if err != nil {
			return
		}
		r.Body.Close()
	}
}
`

// starts measures from the start of the process to its first poll, its memory
// when it has been idle for a while, and its size.
func starts(ctx context.Context, b *bench) error {
	bin, err := b.build(ctx)
	if err != nil {
		return err
	}
	dir := b.file("least")
	if err := os.Mkdir(dir, 0o700); err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(dir, "main.go"), []byte(least), 0o600); err != nil {
		return err
	}
	small := filepath.Join(dir, "least")
	if err := goBuild(ctx, small, filepath.Join(dir, "main.go")); err != nil {
		return err
	}
	ours, err := b.started(ctx, bin, "serve")
	if err != nil {
		return err
	}
	theirs, err := b.started(ctx, small)
	if err != nil {
		return err
	}
	b.add("start to first poll", ms(ours.start), "≤ 150 ms", "a program that only polls: "+ms(theirs.start))
	b.add("resident memory, idle", mib(ours.resident), "≤ 40 MiB", "the same: "+mib(theirs.resident))
	b.add("binary", mib(ours.size), "≤ 40 MiB", "the same: "+mib(theirs.size))
	return nil
}

// standing is what a program costs before it does anything.
type standing struct {
	start          time.Duration
	resident, size int64
}

func (b *bench) started(ctx context.Context, bin string, args ...string) (s standing, err error) {
	st, err := os.Stat(bin)
	if err != nil {
		return s, err
	}
	s.size = st.Size()
	var starts times
	var resident []int64
	for i := range b.size(11, 3) {
		took, kept, err := b.startOnce(ctx, fmt.Sprint(filepath.Base(bin), i), bin, args)
		if err != nil {
			return s, err
		}
		starts, resident = append(starts, took), append(resident, kept)
	}
	slices.Sort(resident)
	s.start, s.resident = starts.median(), resident[len(resident)/2]
	return s, nil
}

// startOnce starts the program on a book that is there already, waits for its
// first poll and looks at its memory after some seconds of nothing.
func (b *bench) startOnce(ctx context.Context, name, bin string, args []string) (time.Duration, int64, error) {
	s := loopback.New(loopback.Options{})
	defer s.Close()
	db, err := b.open(ctx, name+".db")
	if err != nil {
		return 0, 0, err
	}
	db.Close()
	c := exec.CommandContext(ctx, bin, args...)
	c.Env = append(os.Environ(), "MUSTBOOK_DB="+b.file(name+".db"), "TELEGRAM_API_URL="+s.URL(), "TELEGRAM_BOT_TOKEN="+loopback.Token)
	begin := time.Now()
	if err := c.Start(); err != nil {
		return 0, 0, err
	}
	defer func() { c.Process.Kill(); c.Wait() }()
	if err := s.Until(ctx, func() bool { return s.Polls() > 0 }); err != nil {
		return 0, 0, err
	}
	took := time.Since(begin)
	time.Sleep(time.Duration(b.size(3000, 300)) * time.Millisecond)
	kept, err := resident(c.Process.Pid)
	return took, kept, err
}

// resident reads a process's memory from /proc, in bytes.
func resident(pid int) (int64, error) {
	data, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		return 0, err
	}
	for l := range strings.Lines(string(data)) {
		if v, ok := strings.CutPrefix(l, "VmRSS:"); ok {
			kb, err := strconv.ParseInt(strings.TrimSpace(strings.TrimSuffix(strings.TrimSpace(v), "kB")), 10, 64)
			return kb << 10, err
		}
	}
	return 0, errors.New("no VmRSS")
}
