package main

import (
	"context"
	"os"
	"path/filepath"
	"strings"

	"mustbook/bot"
	"mustbook/store"
)

// draw makes a picture or paper from the book as it is when it is sent.
func (p *program) draw(ctx context.Context, e *environment, o store.Out) (d bot.Drawn, err error) {
	err = p.db.View(ctx, func(tx *store.Tx) error {
		d, err = p.bot.Draw(ctx, tx, o, e.Now())
		return err
	})
	return d, err
}

// render hands files to the chat platform.
func (p *program) render(e *environment) func(context.Context, store.Out) (string, []byte, error) {
	return func(ctx context.Context, o store.Out) (string, []byte, error) {
		d, err := p.draw(ctx, e, o)
		return d.Name, d.Data, err
	}
}

// save puts files beside the database and shows in the terminal what can be shown
// there, and the file's name.
func (p *program) save(e *environment, dir string) func(context.Context, store.Out) (string, error) {
	return func(ctx context.Context, o store.Out) (string, error) {
		d, err := p.draw(ctx, e, o)
		if err != nil {
			return "", err
		}
		path := filepath.Join(dir, d.Name)
		if err := os.WriteFile(path, d.Data, 0o600); err != nil {
			return "", err
		}
		return strings.Join(append(d.Plain, "saved as "+path), "\n"), nil
	}
}
