package bot

import (
	"context"
	"encoding/csv"
	"io"
	"strconv"
	"strings"
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
	Batches   []ExportedBatch  `json:"batches"`

	bottles []bottleLine
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
	State   *Summary        `json:"state"`
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

type bottleLine struct {
	batch      string
	made, left int
	ml         float64
}

// exportVersion is the version of the document's form.
const exportVersion = 1

// Export reads a whole book as of now.
func (b *Bot) Export(ctx context.Context, tx *store.Tx, id int64, now time.Time) (*Document, error) {
	book, err := tx.Book(id)
	if err != nil {
		return nil, err
	}
	bk, err := b.load(tx, id, now, 0)
	if err != nil {
		return nil, err
	}
	d := &Document{Version: exportVersion, Household: book.Name, Members: []ExportedMember{}, House: []ExportedEntry{}, Batches: []ExportedBatch{}}
	members, err := tx.Members(id)
	if err != nil {
		return nil, err
	}
	for _, m := range members {
		d.Members = append(d.Members, ExportedMember{m.ID, m.Name, m.Keeper})
	}
	states, err := b.Summaries(ctx, tx, id, now)
	if err != nil {
		return nil, err
	}
	byN := map[int]*ExportedBatch{}
	numbers, err := tx.BatchNumbers(id)
	if err != nil {
		return nil, err
	}
	for _, n := range numbers {
		d.Batches = append(d.Batches, ExportedBatch{N: n, Entries: []ExportedEntry{}})
	}
	for i := range d.Batches {
		byN[d.Batches[i].N] = &d.Batches[i]
	}
	for i := range states {
		x := byN[states[i].N]
		x.Name, x.State = states[i].Batch, &states[i]
	}
	for _, s := range bk.batches {
		if s.BottlesMade > 0 {
			d.bottles = append(d.bottles, bottleLine{s.Name, s.BottlesMade, s.BottlesLeft, s.BottleML})
		}
	}
	return d, tx.EachEntry(id, func(r store.EntryRow) error {
		e := exported(r, bk.zone)
		if r.Batch == 0 {
			d.House = append(d.House, e)
		} else if x := byN[r.Batch]; x != nil {
			x.Entries = append(x.Entries, e)
		}
		return nil
	})
}

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

// CSV writes entries.csv, batches.csv and bottles.csv (RFC 4180, UTF-8).
func (d *Document) CSV(create func(name string) (io.WriteCloser, error)) error {
	files := []struct {
		name string
		rows [][]string
	}{{"entries.csv", d.entryRows()}, {"batches.csv", d.batchRows()}, {"bottles.csv", d.bottleRows()}}
	for _, f := range files {
		w, err := create(f.name)
		if err != nil {
			return err
		}
		c := csv.NewWriter(w)
		c.UseCRLF = true
		if err := c.WriteAll(guarded(f.rows)); err != nil {
			w.Close()
			return err
		}
		if err := w.Close(); err != nil {
			return err
		}
	}
	return nil
}

// guarded puts a ' before a cell that a spreadsheet would take for a formula.
func guarded(rows [][]string) [][]string {
	for _, r := range rows {
		for i, c := range r {
			if c != "" && strings.ContainsRune("=+-@", rune(c[0])) {
				r[i] = "'" + c
			}
		}
	}
	return rows
}

func (d *Document) entryRows() [][]string {
	rows := [][]string{{"batch", "name", "id", "root", "supersedes", "void", "at", "day_only", "quantity", "value", "unit", "typed", "deed", "material", "text", "by", "author", "typed_at"}}
	add := func(n int, name string, es []ExportedEntry) {
		for _, e := range es {
			v := ""
			if e.Value != nil {
				v = strconv.FormatFloat(*e.Value, 'f', -1, 64)
			}
			rows = append(rows, []string{strconv.Itoa(n), name, strconv.FormatInt(e.ID, 10), strconv.FormatInt(e.Root, 10), strconv.FormatInt(e.Supersedes, 10),
				strconv.FormatBool(e.Void), e.At, strconv.FormatBool(e.DayOnly), e.Quantity, v, e.Unit, e.Typed, e.Deed, e.Material, e.Text, e.By, e.AuthorName, e.TypedAt})
		}
	}
	add(0, "", d.House)
	for _, b := range d.Batches {
		add(b.N, b.Name, b.Entries)
	}
	return rows
}

func (d *Document) batchRows() [][]string {
	rows := [][]string{{"n", "batch", "kind", "stage", "conditions", "og", "sg", "abv", "abv_doubt", "sugar_left_g_per_L", "volume_L", "stopped"}}
	f := func(v *float64) string {
		if v == nil {
			return ""
		}
		return strconv.FormatFloat(*v, 'f', -1, 64)
	}
	for _, b := range d.Batches {
		if s := b.State; s != nil {
			rows = append(rows, []string{strconv.Itoa(s.N), s.Batch, s.Kind, s.Stage, strings.Join(s.Conditions, "; "), f(s.OG), f(s.SG), f(s.ABV), f(s.ABVDoubt), f(s.SugarLeft), f(s.Volume), strconv.FormatBool(s.Stopped)})
		}
	}
	return rows
}

func (d *Document) bottleRows() [][]string {
	rows := [][]string{{"batch", "made", "left", "size_ml"}}
	for _, b := range d.bottles {
		rows = append(rows, []string{b.batch, strconv.Itoa(b.made), strconv.Itoa(b.left), strconv.FormatFloat(b.ml, 'f', -1, 64)})
	}
	return rows
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
