package bot

import (
	"cmp"
	"errors"
	"fmt"
	"slices"
	"time"

	"mustbook/bot/parse"
)

// rows are the entries of a document in the order in which they were written.
func (d *Document) rows() []fileRow {
	var out []fileRow
	for _, e := range d.House {
		out = append(out, fileRow{e, 0})
	}
	for _, b := range d.Batches {
		for _, e := range b.Entries {
			out = append(out, fileRow{e, b.N})
		}
	}
	slices.SortStableFunc(out, func(a, b fileRow) int { return cmp.Compare(a.e.ID, b.e.ID) })
	return out
}

// check refuses a document that cannot be taken in whole, before anything is asked:
// somebody may have mended it by hand.
func (d *Document) check() error {
	seen := map[int]bool{0: true}
	for _, b := range d.Batches {
		if seen[b.N] || b.N < 0 {
			return fmt.Errorf("batch %d is there twice", b.N)
		}
		seen[b.N] = true
		for _, s := range b.Said {
			if err := s.check(); err != nil {
				return fmt.Errorf("batch %d: %w", b.N, err)
			}
		}
	}
	for _, s := range d.Said {
		if err := s.check(); err != nil {
			return err
		}
	}
	roots, live := map[int64]bool{}, map[int64]bool{}
	for _, r := range d.rows() {
		if err := r.e.check(); err != nil {
			return fmt.Errorf("entry %d: %w", r.e.ID, err)
		}
		if r.e.Void && !live[r.e.Root] {
			return fmt.Errorf("entry %d takes back what is not there", r.e.ID)
		}
		if r.e.Root != r.e.ID && !roots[r.e.Root] {
			return fmt.Errorf("entry %d replaces what is not there", r.e.ID)
		}
		if r.e.Root == r.e.ID && roots[r.e.Root] {
			return fmt.Errorf("entry %d is there twice", r.e.ID)
		}
		roots[r.e.Root], live[r.e.Root] = true, !r.e.Void
	}
	return nil
}

// Years in which an entry may lie: those that a book can write.
const (
	firstYear = 1900
	lastYear  = 2200
)

func (e ExportedEntry) check() error {
	for _, text := range []string{e.At, e.TypedAt} {
		if err := dated(text); err != nil {
			return err
		}
	}
	for _, text := range []string{e.Quantity, e.Unit, e.Typed, e.Deed, e.Material, e.Basis, e.By, e.Text, e.Instrument, e.Type, e.Key, e.AuthorName} {
		if len(text) > parse.MaxLength {
			return errors.New("a text longer than a message can be")
		}
	}
	if e.Quantity == "" {
		return errors.New("it has no quantity")
	}
	return nil
}

func (s ExportedSaid) check() error {
	for _, text := range []string{s.Made, s.Due, s.Answered, s.Snoozed} {
		if err := dated(text); text != "" && err != nil {
			return fmt.Errorf("reminder %s: %w", s.Rule, err)
		}
	}
	if s.Made == "" || s.Due == "" {
		return fmt.Errorf("reminder %s has no day", s.Rule)
	}
	return nil
}

func dated(text string) error {
	at, err := time.Parse(time.RFC3339Nano, text)
	if err == nil && (at.Year() < firstYear || at.Year() > lastYear) {
		err = fmt.Errorf("the year %d", at.Year())
	}
	return err
}
