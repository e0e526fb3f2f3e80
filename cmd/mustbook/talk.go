package main

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime/debug"
	"strings"
	"time"

	"mustbook/bot/console"
	"mustbook/bot/parse"
	"mustbook/bot/script"
)

// chat talks in the terminal.
func chat(ctx context.Context, e *environment, args []string) error {
	f := flags("chat")
	dbFlag := f.String("db", "", "database")
	if _, err := exactly(e, f, args, 0); err != nil {
		return done(err)
	}
	path, err := database(e, *dbFlag)
	if err != nil {
		return err
	}
	p, err := openHeld(ctx, e, path)
	if err != nil {
		return err
	}
	defer p.db.Close()
	ticks, err := p.ticks(e, "", nil)
	if err != nil {
		return err
	}
	err = console.Run(ctx, console.Config{DB: p.db, Bot: p.bot, In: e.In, Out: e.Out, Now: e.Now, Prompt: isTerminal(e.In), Name: keeperName(e), Draw: p.save(e, filepath.Dir(path)),
		Tick: ticks.Tick})
	if err != nil {
		return err
	}
	return p.db.Tidy(context.WithoutCancel(ctx)) // what was forgotten leaves the disk too
}

// exactly parses flags and wants exactly n arguments.
func exactly(e *environment, f *flag.FlagSet, args []string, n int) ([]string, error) {
	rest, err := parseFlags(e, f, args)
	if err != nil {
		return nil, err
	}
	if len(rest) != n {
		return nil, usagef("%s takes %d argument(s), not %d", f.Name(), n, len(rest))
	}
	return rest, nil
}

func keeperName(e *environment) string {
	if u := e.Getenv("USER"); u != "" && u != "root" {
		return u
	}
	return "keeper"
}

func isTerminal(r any) bool {
	f, ok := r.(*os.File)
	if !ok {
		return false
	}
	st, err := f.Stat()
	return err == nil && st.Mode()&os.ModeCharDevice != 0
}

// replay plays a dated conversation over a database that is gone afterwards.
func replay(ctx context.Context, e *environment, args []string) error {
	f := flags("replay")
	asJSON := f.Bool("json", false, "one object a line")
	rest, err := exactly(e, f, args, 1)
	if err != nil {
		return done(err)
	}
	raw, err := os.ReadFile(rest[0])
	if err != nil {
		return usagef("cannot read %s", rest[0])
	}
	story, err := script.Parse(string(raw), loadZone)
	if err != nil {
		return usageError{fmt.Errorf("%s: %w", filepath.Base(rest[0]), err)}
	}
	dir, err := os.MkdirTemp("", "mustbook-replay")
	if err != nil {
		return err
	}
	defer os.RemoveAll(dir)
	p, err := open(ctx, e, filepath.Join(dir, "replay.db"))
	if err != nil {
		return err
	}
	defer p.db.Close()
	p.bot.Default = story.Zone
	ticks, err := p.ticks(e, "", nil)
	if err != nil {
		return err
	}
	w := bufio.NewWriter(e.Out)
	defer w.Flush()
	pl := &script.Player{DB: p.db, Bot: p.bot, Story: story, Say: script.Plain(w, story.Zone),
		Tick: ticks.Tick}
	if *asJSON {
		pl.Say = script.JSON(w, story.Zone)
	}
	err = pl.Play(ctx)
	var bad *script.BadLine
	if errors.As(err, &bad) {
		return usageError{fmt.Errorf("%s: %w", filepath.Base(rest[0]), bad)}
	}
	if err != nil || !*asJSON {
		return err
	}
	all, err := pl.Summaries(ctx)
	if err != nil {
		return err
	}
	return script.States(w, all)
}

// hearGC is the collector's percentage of a filter that keeps nothing between two lines.
const hearGC = 800

// hear shows how texts are understood; it never opens a database.
func hear(_ context.Context, e *environment, args []string) error {
	f := flags("hear")
	asJSON := f.Bool("json", false, "JSON lines in and out")
	if _, err := exactly(e, f, args, 0); err != nil {
		return done(err)
	}
	z, err := zone(e)
	if err != nil {
		return err
	}
	defer debug.SetGCPercent(debug.SetGCPercent(hearGC))
	in := bufio.NewReaderSize(e.In, 1<<20)
	out := bufio.NewWriterSize(e.Out, 1<<16)
	defer out.Flush()
	bad := false
	for n := 1; ; n++ {
		line, err := in.ReadBytes('\n')
		if line = bytes.TrimRight(line, "\r\n"); len(bytes.TrimSpace(line)) > 0 {
			if *asJSON {
				bad = hearJSON(e, z, out, line, n) || bad
			} else {
				for _, l := range explain(string(line), e, z) {
					fmt.Fprintln(out, l)
				}
			}
		}
		if err == io.EOF {
			break
		}
		if err != nil {
			return err
		}
		if in.Buffered() == 0 {
			out.Flush()
		}
	}
	if bad {
		out.Flush()
		return errQuiet
	}
	return nil
}

// hearJSON answers one line of JSON and reports whether it could not be read.
func hearJSON(e *environment, z *time.Location, out *bufio.Writer, line []byte, n int) (bad bool) {
	id, text, c, err := parse.DecodeLine(line, n, e.Now().In(z))
	if err != nil {
		out.Write(parse.RejectLine(nil, err))
	} else {
		out.Write(parse.Message(text, c).AppendJSON(out.AvailableBuffer(), id))
	}
	out.WriteByte('\n')
	return err != nil
}

// explain tells word by word what a text means: a bare one in an empty book, an
// object of the JSON form in the context that it brings.
func explain(text string, e *environment, z *time.Location) []string {
	if strings.HasPrefix(strings.TrimSpace(text), "{") {
		_, t, c, err := parse.DecodeLine([]byte(text), 1, e.Now().In(z))
		if err != nil {
			return []string{err.Error()}
		}
		c.Explain = true
		return parse.Explain(parse.Message(t, c), t)
	}
	return parse.Explain(parse.Message(text, parse.Context{Now: e.Now().In(z), Units: "metric", Explain: true}), text)
}
