// Command mustbook keeps a household's winemaking records by short messages.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"
	"time"
	_ "time/tzdata"
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	env := &environment{In: os.Stdin, Out: os.Stdout, Err: os.Stderr, Getenv: os.Getenv, Now: clock()}
	os.Exit(exitCode(env.Err, run(ctx, env, os.Args[1:])))
}

// environment is all that a command takes from outside.
type environment struct {
	In       io.Reader
	Out, Err io.Writer
	Getenv   func(string) string
	Now      func() time.Time
}

// errUsage marks what the person at the shell can mend: a wrong flag, setting or
// file; the exit code is 2.
var errUsage = errors.New("usage")

type usageError struct{ error }

func (usageError) Is(target error) bool { return target == errUsage }

func usagef(format string, args ...any) error { return usageError{fmt.Errorf(format, args...)} }

// errQuiet ends with code 1 without a line: what went wrong was told already.
var errQuiet = errors.New("told already")

// exitCode prints an error in one line and turns it into the process's exit code:
// 0 done, 1 it failed, 2 wrong flag, setting, file, or a newer database.
func exitCode(w io.Writer, err error) int {
	if err == nil {
		return 0
	}
	if !errors.Is(err, errQuiet) {
		fmt.Fprintln(w, "mustbook:", oneLine(err.Error()))
	}
	if errors.Is(err, errUsage) || isNewer(err) {
		return 2
	}
	return 1
}

func oneLine(s string) string {
	out := []rune(s)
	for i, r := range out {
		if r == '\n' || r == '\r' {
			out[i] = ' '
		}
	}
	return string(out)
}

// command is one subcommand: its name, its usage and what it does.
type command struct {
	name, usage, what string
	run               func(ctx context.Context, e *environment, args []string) error
}

func commands() []command {
	return []command{
		{"chat", "", "talk in the terminal over an embedded database", chat},
		{"serve", "[--webhook-url URL --listen ADDR] [--new-code] [--health ADDR]", "the same on Telegram", serve},
		{"replay", "[--json] FILE", "play a dated conversation on a virtual clock", replay},
		{"hear", "[--json]", "show how texts are understood; stores nothing", hear},
		{"export", "[--book N] [--to DIR|-] [--format json|csv]", "write out a book; csv to - is one zip", export},
		{"import", "FILE [--book N] [--yes]", "take in an export or a table of readings", importFile},
		{"backup", "FILE", "copy the database while it is in use, and verify the copy", backup},
		{"restore", "FILE [--force]", "put a backup in the database's place", restore},
		{"verify", "[FILE]", "check a database whole", verify},
	}
}

func run(ctx context.Context, e *environment, args []string) error {
	if len(args) == 0 || args[0] == "help" || args[0] == "--help" || args[0] == "-h" {
		usage(e.Out)
		return nil
	}
	for _, c := range commands() {
		if c.name == args[0] {
			return c.run(ctx, e, args[1:])
		}
	}
	return usagef("no command %q; mustbook help lists them", args[0])
}

func usage(w io.Writer) {
	fmt.Fprintln(w, "mustbook keeps a household's winemaking records by short messages.")
	for _, c := range commands() {
		fmt.Fprintf(w, "\n  mustbook %s %s\n      %s\n", c.name, c.usage, c.what)
	}
	fmt.Fprint(w, `
serve polls. With --webhook-url, the public https address, it is called at --listen,
behind a proxy that ends TLS. --health serves a page for a watchdog there. --new-code
prints a new one-time code for a lost host.

Settings from the environment:
  MUSTBOOK_DB           the database, or --db; else mustbook/mustbook.db in
                        $XDG_DATA_HOME or ~/.local/share
  MUSTBOOK_TZ           zone of new books, like Europe/Dublin; else the system's
  MUSTBOOK_LOG          error, warn, info or debug, to standard error; else warn
  TELEGRAM_BOT_TOKEN    the bot's token, a secret
  MUSTBOOK_KEEPER_CODE  a one-time code of your own, 12 characters or more, a secret
  TELEGRAM_API_URL      another server that speaks the Bot API

Exit codes: 0 done; 1 it failed; 2 a wrong flag, setting or file, or a database newer
than the program.
`)
}
