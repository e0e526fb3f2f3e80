// Command bench measures what the program promises and prints each figure beside
// its baseline of the same run. It asserts nothing: the reader judges.
//
//	go run ./cmd/bench                     everything, some twenty minutes
//	go run ./cmd/bench -small              the same on a small scale, a minute or two
//	go run ./cmd/bench -only reply,hear    some parts
//
// It must be run from the root of the tree, because it builds the program. pure.go is what
// needs no program, household.go and reply.go a message's own work, path.go and library.go
// the whole way beside a small bot on the library's own loop, scale.go and ticks.go the large
// file, program.go start, memory and size; timing.go has the clock, disk_linux.go what is read.
package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"os/signal"
	"path/filepath"
	"runtime"
	"runtime/pprof"
	"slices"
	"strings"
	"text/tabwriter"
	"time"
	_ "time/tzdata"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, os.Stdout, os.Stderr, os.Args[1:]); err != nil {
		fmt.Fprintln(os.Stderr, "bench:", err)
		os.Exit(1)
	}
}

// part is one thing that is measured.
type part struct {
	name string
	run  func(context.Context, *bench) error
}

// parts in the order in which they run.
var parts = []part{{"reply", replies}, {"hear", hearing}, {"forecast", forecasts}, {"chart", charts},
	{"start", starts}, {"path", path}, {"scale", scale}}

// bench is one run.
type bench struct {
	small   bool
	batches int    // of the large file
	dir     string // for databases; removed at the end
	err     io.Writer
	rows    []row
	binary  string // of the program, once it is built
}

// row is one figure. Aim is empty where none was promised.
type row struct{ what, figure, aim, baseline string }

func (b *bench) add(what, figure, aim, baseline string) {
	b.rows = append(b.rows, row{what, figure, aim, baseline})
}

// note tells how far it is, past the table.
func (b *bench) note(format string, args ...any) {
	fmt.Fprintf(b.err, time.Now().Format("15:04:05 ")+format+"\n", args...)
}

func run(ctx context.Context, out, progress io.Writer, args []string) error {
	f := flag.NewFlagSet("bench", flag.ContinueOnError)
	f.SetOutput(progress)
	only := f.String("only", "", "parts to run, separated by commas: "+names(parts))
	small := f.Bool("small", false, "small sizes")
	batches := f.Int("batches", 0, "batches of the large file; 0: 1,000,000, with -small 2,000")
	dir := f.String("dir", "", "where to put databases; they are removed")
	profile := f.String("profile", "", "write a CPU profile here")
	if err := f.Parse(args); err != nil {
		return err
	}
	b := &bench{small: *small, batches: *batches, err: progress}
	if b.batches == 0 {
		b.batches = b.size(1_000_000, 2_000)
	}
	chosen, err := choose(*only)
	if err != nil {
		return err
	}
	if b.dir, err = os.MkdirTemp(*dir, "bench"); err != nil {
		return err
	}
	defer os.RemoveAll(b.dir)
	if *profile != "" {
		w, err := os.Create(*profile)
		if err != nil {
			return err
		}
		defer w.Close()
		if err := pprof.StartCPUProfile(w); err != nil {
			return err
		}
		defer pprof.StopCPUProfile()
	}
	for _, p := range chosen {
		b.note("%s", p.name)
		err := p.run(ctx, b)
		b.flush(out)
		if err != nil {
			return fmt.Errorf("%s: %w", p.name, err)
		}
	}
	return nil
}

func names(ps []part) string {
	var out []string
	for _, p := range ps {
		out = append(out, p.name)
	}
	return strings.Join(out, ", ")
}

func choose(only string) ([]part, error) {
	if only == "" {
		return parts, nil
	}
	var out []part
	for _, name := range strings.Split(only, ",") {
		i := slices.IndexFunc(parts, func(p part) bool { return p.name == name })
		if i < 0 {
			return nil, errors.New("no part " + name + "; there are " + names(parts))
		}
		out = append(out, parts[i])
	}
	return out, nil
}

// size is the full count, or the small one.
func (b *bench) size(full, small int) int {
	if b.small {
		return small
	}
	return full
}

// flush prints the figures so far, each part as it ends, since a run is long.
func (b *bench) flush(out io.Writer) {
	w := tabwriter.NewWriter(out, 0, 0, 2, ' ', 0)
	for _, r := range b.rows {
		fmt.Fprintf(w, "%s\t%s\t%s\t%s\n", r.what, r.figure, r.aim, r.baseline)
	}
	w.Flush()
	b.rows = nil
}

// file is a path in the bench's folder.
func (b *bench) file(name string) string { return filepath.Join(b.dir, name) }

// held is the heap in use after a collection, in bytes.
func held() uint64 {
	runtime.GC()
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
