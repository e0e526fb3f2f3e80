package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"mustbook/bot"
	"mustbook/store"
)

// backup copies the database while it is in use.
func backup(ctx context.Context, e *environment, args []string) error {
	f := flags("backup")
	dbFlag := f.String("db", "", "database")
	rest, err := exactly(e, f, args, 1)
	if err != nil {
		return done(err)
	}
	path, err := database(e, *dbFlag)
	if err != nil {
		return err
	}
	p, err := openExisting(ctx, e, path)
	if err != nil {
		return err
	}
	defer p.db.Close()
	r, err := p.db.Backup(ctx, rest[0])
	if err != nil {
		return err
	}
	fmt.Fprintf(e.Out, "%s: %d entries of %d batches, verified\n", rest[0], r.Entries, r.Batches)
	return nil
}

func openExisting(ctx context.Context, e *environment, path string) (*program, error) {
	if _, err := os.Stat(path); err != nil {
		return nil, fmt.Errorf("no database at %s", path)
	}
	return open(ctx, e, path)
}

// restore puts a backup in the database's place.
func restore(ctx context.Context, e *environment, args []string) error {
	f := flags("restore")
	dbFlag := f.String("db", "", "database")
	force := f.Bool("force", false, "replace an existing database")
	rest, err := exactly(e, f, args, 1)
	if err != nil {
		return done(err)
	}
	path, err := database(e, *dbFlag)
	if err != nil {
		return err
	}
	dead := deadCode(ctx, path)
	if err := store.Restore(ctx, rest[0], path, *force); err != nil {
		return err
	}
	if err := keepDead(ctx, path, dead); err != nil {
		return err
	}
	fmt.Fprintf(e.Out, "%s restored from %s\n", path, rest[0])
	return nil
}

// deadCode reads which code is used up in the database that a restore replaces;
// nothing where there is none, or it is too damaged to tell.
func deadCode(ctx context.Context, path string) (dead string) {
	db, err := store.Open(ctx, path, store.Options{ReadOnly: true})
	if err != nil {
		return ""
	}
	defer db.Close()
	if err := db.View(ctx, func(tx *store.Tx) error { dead = bot.DeadCode(tx); return nil }); err != nil {
		return ""
	}
	return dead
}

// keepDead keeps a used code dead over a restore: a backup from before its use does
// not know of it.
func keepDead(ctx context.Context, path, dead string) error {
	if dead == "" {
		return nil
	}
	db, err := store.Open(ctx, path, store.Options{})
	if err != nil {
		return err
	}
	return errors.Join(db.Update(ctx, func(tx *store.Tx) error { return bot.KeepDead(tx, dead) }), db.Close())
}

// verify checks a database whole and folds every batch anew.
func verify(ctx context.Context, e *environment, args []string) error {
	f := flags("verify")
	dbFlag := f.String("db", "", "database")
	rest, err := parseFlags(e, f, args)
	if err != nil {
		return done(err)
	}
	path := ""
	if len(rest) == 1 {
		path = rest[0]
	} else if path, err = database(e, *dbFlag); err != nil {
		return err
	}
	r, err := store.Verify(ctx, path)
	if err != nil {
		return err
	}
	if !r.Sound() {
		return fmt.Errorf("%s is damaged: %v, %d lost references", path, r.Integrity, r.ForeignKeys)
	}
	folded := 0
	err = withBooks(ctx, e, path, func(p *program, tx *store.Tx, b store.Book) error {
		n, err := p.bot.Verify(ctx, tx, b.ID, e.Now())
		folded += n
		return err
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(e.Out, "%s is sound: %d entries, %d batches folded\n", path, r.Entries, folded)
	return nil
}

// withBooks opens a database for reading and visits its books.
func withBooks(ctx context.Context, e *environment, path string, visit func(*program, *store.Tx, store.Book) error) error {
	p, err := openExisting(ctx, e, path)
	if err != nil {
		return err
	}
	defer p.db.Close()
	return p.db.View(ctx, func(tx *store.Tx) error {
		books, err := tx.Books()
		if err != nil {
			return err
		}
		for _, b := range books {
			if err := visit(p, tx, b); err != nil {
				return err
			}
		}
		return nil
	})
}

// export writes out a book.
func export(ctx context.Context, e *environment, args []string) error {
	f := flags("export")
	dbFlag := f.String("db", "", "database")
	book := f.Int64("book", 1, "book")
	to := f.String("to", "-", "folder, or - for standard output (csv: a zip)")
	format := f.String("format", "json", "json or csv")
	if _, err := exactly(e, f, args, 0); err != nil {
		return done(err)
	}
	if *format != "json" && *format != "csv" {
		return usagef("--format is json or csv")
	}
	if *format == "csv" && *to == "-" && isTerminal(e.Out) {
		return usagef("csv is three files in one zip: send it to a file, or give a folder with --to DIR")
	}
	path, err := database(e, *dbFlag)
	if err != nil {
		return err
	}
	return withBooks(ctx, e, path, func(p *program, tx *store.Tx, b store.Book) error {
		if b.ID != *book {
			return nil
		}
		if *format == "csv" && *to == "-" {
			z := newBundle(e.Out, e.Now())
			return errors.Join(p.bot.ExportCSV(ctx, tx, b.ID, e.Now(), z.create), z.zip.Close())
		}
		if *format == "csv" {
			return p.bot.ExportCSV(ctx, tx, b.ID, e.Now(), func(name string) (io.WriteCloser, error) { return create(*to, name) })
		}
		if *to == "-" {
			return p.bot.ExportJSON(ctx, tx, b.ID, e.Now(), e.Out)
		}
		file, err := create(*to, "mustbook.json")
		if err != nil {
			return err
		}
		return errors.Join(p.bot.ExportJSON(ctx, tx, b.ID, e.Now(), file), file.Close())
	})
}

func create(dir, name string) (io.WriteCloser, error) {
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, err
	}
	return os.OpenFile(filepath.Join(dir, name), os.O_CREATE|os.O_WRONLY|os.O_TRUNC, 0o600)
}

// importFile takes an export into an empty book, or a table of readings after a
// preview.
func importFile(ctx context.Context, e *environment, args []string) error {
	f := flags("import")
	dbFlag := f.String("db", "", "database")
	book := f.Int64("book", 1, "book")
	yes := f.Bool("yes", false, "do not ask")
	rest, err := exactly(e, f, args, 1)
	if err != nil {
		return done(err)
	}
	raw, err := os.ReadFile(rest[0])
	if err != nil {
		return usagef("cannot read %s", rest[0])
	}
	path, err := database(e, *dbFlag)
	if err != nil {
		return err
	}
	in, err := bot.ReadImport(rest[0], raw)
	if err != nil {
		return usageError{fmt.Errorf("%s: %w", filepath.Base(rest[0]), err)}
	}
	for _, l := range in.Preview() {
		fmt.Fprintln(e.Out, l)
	}
	if !*yes {
		fmt.Fprint(e.Out, "Put them in? yes or no: ")
		var answer string
		fmt.Fscanln(e.In, &answer)
		if answer != "yes" && answer != "y" {
			fmt.Fprintln(e.Out, "Nothing was changed")
			return nil
		}
	}
	p, err := openHeld(ctx, e, path)
	if err != nil {
		return err
	}
	defer p.db.Close()
	var n int
	err = p.db.Update(ctx, func(tx *store.Tx) (err error) {
		n, err = p.bot.Import(tx, *book, in, e.Now())
		return err
	})
	if err != nil {
		return err
	}
	fmt.Fprintf(e.Out, "%d entries put in\n", n)
	return nil
}
