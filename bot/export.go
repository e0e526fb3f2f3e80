package bot

import (
	"time"

	"mustbook/ferment"
	"mustbook/store"
)

// Document is a whole book as it leaves the program: every entry as typed, with
// its root and what superseded it, and the state folded from them.
type Document struct {
	Version   int              `json:"version"`
	Household string           `json:"household"`
	Members   []ExportedMember `json:"members"`
	House     []ExportedEntry  `json:"house"` // settings: entries of no batch
	Said      []ExportedSaid   `json:"said,omitempty"`
	Batches   []ExportedBatch  `json:"batches"`
}

// ExportedMember is a person of the household.
type ExportedMember struct {
	ID     int64  `json:"id"`
	Name   string `json:"name"`
	Keeper bool   `json:"keeper"`
}

// ExportedBatch is a batch with its entries and what they mean.
type ExportedBatch struct {
	N       int             `json:"n"`
	Name    string          `json:"name"`
	Entries []ExportedEntry `json:"entries"`
	Said    []ExportedSaid  `json:"said,omitempty"`
	State   *Summary        `json:"state"`
}

// ExportedSaid is a reminder that was made of a batch or the book, and what became of
// it: without these a book that was taken in would remind of all its past.
type ExportedSaid struct {
	Rule       string `json:"rule"`
	Anchor     int64  `json:"anchor"` // root of the entry that it counts from; 0: none
	Occurrence int    `json:"occurrence"`
	Made       string `json:"made"`
	Due        string `json:"due"`
	Answered   string `json:"answered,omitempty"`
	Answer     string `json:"answer,omitempty"`
	Snoozed    string `json:"snoozed,omitempty"`
	Muted      bool   `json:"muted,omitempty"`
}

// ExportedEntry is a row of the book.
type ExportedEntry struct {
	ID         int64    `json:"id"`
	Root       int64    `json:"root"`
	Supersedes int64    `json:"supersedes,omitempty"`
	Void       bool     `json:"void,omitempty"`
	Message    int64    `json:"message"`
	Ordinal    int      `json:"ordinal"`
	Quantity   string   `json:"quantity"`
	Value      *float64 `json:"value"`
	Unit       string   `json:"unit,omitempty"`
	Typed      string   `json:"typed,omitempty"`
	Deed       string   `json:"deed,omitempty"`
	Material   string   `json:"material,omitempty"`
	Basis      string   `json:"basis,omitempty"`
	By         string   `json:"by,omitempty"`
	Text       string   `json:"text,omitempty"`
	Instrument string   `json:"instrument,omitempty"`
	Type       string   `json:"type,omitempty"`
	Key        string   `json:"key,omitempty"`
	Other      int      `json:"other,omitempty"`
	Of         int64    `json:"of,omitempty"`
	Approx     bool     `json:"approx,omitempty"`
	At         string   `json:"at"`
	DayOnly    bool     `json:"day_only,omitempty"`
	Author     int64    `json:"author"`
	AuthorName string   `json:"author_name"`
	TypedAt    string   `json:"typed_at"`
}

// exportVersion is the version of the document's form.
const exportVersion = 1

func exported(r store.EntryRow, zone *time.Location) ExportedEntry {
	e := ExportedEntry{ID: r.ID, Root: r.Root, Supersedes: r.Supersedes, Void: r.Void, Message: r.Message, Ordinal: r.Ordinal, Quantity: string(r.Quantity),
		Unit: r.Unit, Typed: r.Typed, Deed: r.Deed, Material: r.Material, Basis: r.Basis, By: r.By, Text: r.Text, Instrument: r.Instrument, Type: r.Type,
		Key: r.Key, Other: r.Other, Of: r.Of, Approx: r.Approx, At: r.At.In(zone).Format(time.RFC3339Nano), DayOnly: r.DayOnly, Author: r.Author,
		AuthorName: r.AuthorName, TypedAt: r.TypedAt.In(zone).Format(time.RFC3339Nano)}
	if r.Has {
		v := r.Value
		e.Value = &v
	}
	return e
}

// entry turns an exported row back into one of the book.
func (e ExportedEntry) entry(batch int) (ferment.Entry, error) {
	at, err := time.Parse(time.RFC3339Nano, e.At)
	if err != nil {
		return ferment.Entry{}, err
	}
	typed, err := time.Parse(time.RFC3339Nano, e.TypedAt)
	if err != nil {
		return ferment.Entry{}, err
	}
	out := ferment.Entry{Message: e.Message, Ordinal: e.Ordinal, Batch: batch, Quantity: ferment.Quantity(e.Quantity), Unit: e.Unit, Typed: e.Typed, Deed: e.Deed,
		Material: e.Material, Basis: e.Basis, By: e.By, Text: e.Text, Instrument: e.Instrument, Type: e.Type, Key: e.Key, Other: e.Other, Approx: e.Approx,
		At: at, DayOnly: e.DayOnly, Author: e.Author, AuthorName: e.AuthorName, TypedAt: typed}
	if e.Value != nil {
		out.Value, out.Has = *e.Value, true
	}
	return out, nil
}
