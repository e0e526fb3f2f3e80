package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"mustbook/ferment"
	"mustbook/store"
)

// judge compares the book with the model and has the file verified.
func judge(ctx context.Context, p *program, crowd []*home) error {
	report, err := store.Verify(ctx, p.path)
	if err != nil {
		return err
	}
	if !report.Sound() {
		return fmt.Errorf("the file is not sound: %+v", report)
	}
	db, err := store.Open(ctx, p.path, store.Options{ReadOnly: true})
	if err != nil {
		return err
	}
	defer db.Close()
	var wrong []string
	messages, entries := 0, 0
	err = db.View(ctx, func(tx *store.Tx) error {
		for _, h := range crowd {
			bad, n, err := h.judge(tx)
			if err != nil {
				return err
			}
			wrong, entries, messages = append(wrong, bad...), entries+n, messages+len(h.said)
		}
		return nil
	})
	if err != nil {
		return err
	}
	fmt.Printf("%d starts, %d messages of the model, %d entries stand, %d rows in all: integrity sound\n", p.starts, messages, entries, report.Entries)
	if len(wrong) > 0 {
		return fmt.Errorf("%d differ from the model:\n%s", len(wrong), strings.Join(wrong[:min(len(wrong), 20)], "\n"))
	}
	fmt.Println("the book is the model's")
	return nil
}

// judge tells what differs, and how many entries stand in the book.
func (h *home) judge(tx *store.Tx) (wrong []string, stand int, err error) {
	expected := 0
	for _, s := range h.said {
		var want []string
		if !s.taken {
			want = slices.Sorted(slices.Values(s.want))
		}
		expected += len(want)
		got, err := standing(tx, h.book, h.u.ID, s.id)
		if err != nil {
			return nil, 0, err
		}
		if !slices.Equal(got, want) {
			wrong = append(wrong, fmt.Sprintf("%s, message %d (%s): the book has %q, want %q", h.u.Name, s.id, s.kind, got, want))
		}
	}
	err = tx.EachEntry(h.book, func(r store.EntryRow) error {
		if r.Live && r.Batch != 0 {
			stand++
		}
		return nil
	})
	if stand != expected {
		wrong = append(wrong, fmt.Sprintf("%s: %d entries stand, want %d", h.u.Name, stand, expected))
	}
	return wrong, stand, err
}

// standing is what stands of a message, in the words of the model.
func standing(tx *store.Tx, book, chat int64, id int) ([]string, error) {
	m, err := tx.MessageByKey(chat, int64(id))
	if errors.Is(err, store.ErrNotFound) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	es, err := tx.EntriesOfMessage(book, m.ID)
	var out []string
	for _, e := range es {
		what := e.Typed
		switch e.Quantity {
		case ferment.QEvent:
			what = e.Deed
		case ferment.QNote, ferment.QNewBatch:
			what = e.Text
		}
		out = append(out, fmt.Sprintf("%d %s %s", e.Batch, e.Quantity, what))
	}
	slices.Sort(out)
	return out, err
}
