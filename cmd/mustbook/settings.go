package main

import (
	"context"
	"crypto/rand"
	"errors"
	"flag"
	"fmt"
	"io"
	"log/slog"
	"os"
	"path/filepath"
	"strings"
	"time"

	"mustbook/bot"
	"mustbook/bot/photo"
	"mustbook/store"
)

// flags makes a flag set that reports errors as usage errors.
func flags(name string) *flag.FlagSet {
	f := flag.NewFlagSet(name, flag.ContinueOnError)
	f.SetOutput(io.Discard)
	return f
}

// parseFlags reads flags that may stand before or behind the arguments.
func parseFlags(e *environment, f *flag.FlagSet, args []string) ([]string, error) {
	var rest []string
	for {
		if err := f.Parse(args); err != nil {
			if errors.Is(err, flag.ErrHelp) {
				usage(e.Out)
				return nil, errDone
			}
			return nil, usagef("%s: %v", f.Name(), err)
		}
		if f.NArg() == 0 {
			return rest, nil
		}
		rest = append(rest, f.Arg(0))
		args = f.Args()[1:]
	}
}

// errDone ends a command that only had to print its help.
var errDone = errors.New("done")

func done(err error) error {
	if errors.Is(err, errDone) {
		return nil
	}
	return err
}

func isNewer(err error) bool { return errors.Is(err, store.ErrNewer) }

// database is the path of the database: the flag, MUSTBOOK_DB, else mustbook.db in
// the user's data folder.
func database(e *environment, flagged string) (string, error) {
	if flagged != "" {
		return flagged, nil
	}
	if p := e.Getenv("MUSTBOOK_DB"); p != "" {
		return p, nil
	}
	if d := e.Getenv("XDG_DATA_HOME"); d != "" {
		return filepath.Join(d, "mustbook", "mustbook.db"), nil
	}
	home := e.Getenv("HOME")
	if home == "" {
		return "", usagef("no place for the database: set MUSTBOOK_DB")
	}
	return filepath.Join(home, ".local", "share", "mustbook", "mustbook.db"), nil
}

// zone is the zone of new books: MUSTBOOK_TZ, else the system's, else UTC, which
// is told.
func zone(e *environment) (*time.Location, error) {
	if name := e.Getenv("MUSTBOOK_TZ"); name != "" {
		return loadZone(name)
	}
	if name := e.Getenv("TZ"); name != "" {
		if z, err := loadZone(strings.TrimPrefix(name, ":")); err == nil {
			return z, nil
		}
	}
	if link, err := os.Readlink("/etc/localtime"); err == nil {
		if _, name, ok := strings.Cut(link, "zoneinfo/"); ok {
			if z, err := loadZone(name); err == nil {
				return z, nil
			}
		}
	}
	return time.UTC, nil
}

// loadZone loads a zone by its name; the empty name and "Local" would be some
// zone, but not the one that was meant.
func loadZone(name string) (*time.Location, error) {
	if name == "" || name == "Local" {
		return nil, usagef("no zone %q; write it like Europe/Dublin", name)
	}
	z, err := time.LoadLocation(name)
	if err != nil {
		return nil, usagef("no zone %q; write it like Europe/Dublin", name)
	}
	return z, nil
}

func logger(e *environment) (*slog.Logger, error) {
	var level slog.Level
	switch name := e.Getenv("MUSTBOOK_LOG"); name {
	case "", "warn":
		level = slog.LevelWarn
	case "error":
		level = slog.LevelError
	case "info":
		level = slog.LevelInfo
	case "debug":
		level = slog.LevelDebug
	default:
		return nil, usagef("MUSTBOOK_LOG is error, warn, info or debug, not %q", name)
	}
	return slog.New(slog.NewTextHandler(e.Err, &slog.HandlerOptions{Level: level})), nil
}

// program is what every command that opens a book needs.
type program struct {
	db  *store.DB
	bot *bot.Bot
	log *slog.Logger
}

func open(ctx context.Context, e *environment, path string) (*program, error) {
	log, err := logger(e)
	if err != nil {
		return nil, err
	}
	z, err := zone(e)
	if err != nil {
		return nil, err
	}
	db, err := store.Open(ctx, path, store.Options{Now: e.Now, Rand: rand.Reader, Log: log})
	if err != nil {
		return nil, fmt.Errorf("open the database: %w", err)
	}
	return &program{db: db, log: log, bot: &bot.Bot{Zone: loadZone, Default: z, Rand: rand.Reader, Log: log, Look: look, Backups: backups(path)}}, nil
}

// openHeld is open for what keeps the database to itself.
func openHeld(ctx context.Context, e *environment, path string) (*program, error) {
	p, err := open(ctx, e, path)
	if err != nil {
		return nil, err
	}
	if err := p.db.Hold(); err != nil {
		return nil, errors.Join(err, p.db.Close())
	}
	return p, nil
}

// backups is the folder of the nightly backups of a database.
func backups(path string) string { return filepath.Join(filepath.Dir(path), "backups") }

// look makes a picture small and reads its barcode; nothing where it is none.
func look(data []byte) ([]byte, string) {
	p, err := photo.Read(data)
	if err != nil || len(p.Codes) == 0 {
		return p.JPEG, ""
	}
	return p.JPEG, p.Codes[0].Text
}
