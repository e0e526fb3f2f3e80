package bot

import (
	"bufio"
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	"mustbook/ferment"
	"mustbook/schedule"
	"mustbook/store"
)

// leave reads a book as of now for an export: first what is not a batch's, then
// batch by batch.
func (b *Bot) leave(ctx context.Context, tx *store.Tx, id int64, now time.Time, head func(Document) error, batch func(ExportedBatch, *ferment.State) error) error {
	house, err := tx.Book(id)
	if err != nil {
		return err
	}
	w, err := b.newWalk(ctx, tx, id, now)
	if err != nil {
		return err
	}
	if err := w.survey(); err != nil {
		return err
	}
	d := Document{Version: exportVersion, Household: house.Name, Members: []ExportedMember{}, House: []ExportedEntry{}, Batches: []ExportedBatch{}}
	members, err := tx.Members(id)
	if err != nil {
		return err
	}
	for _, m := range members {
		d.Members = append(d.Members, ExportedMember{m.ID, m.Name, m.Keeper})
	}
	if d.House, err = w.rows(0); err != nil {
		return err
	}
	if d.Said, err = w.said(schedule.BookKind, 0); err != nil {
		return err
	}
	if err := head(d); err != nil {
		return err
	}
	return w.each(func(n int, s *ferment.State) error {
		x := ExportedBatch{N: n}
		if x.State, err = w.summary(s); err != nil {
			return err
		}
		if x.State != nil {
			x.Name = s.Name
		}
		if x.Entries, err = w.rows(n); err != nil {
			return err
		}
		if x.Said, err = w.said(schedule.BatchKind, int64(n)); err != nil {
			return err
		}
		return batch(x, s)
	})
}

// rows are all rows of a batch, superseded and taken back ones too.
func (w *walk) rows(n int) ([]ExportedEntry, error) {
	out := []ExportedEntry{}
	all, err := w.tx.AllEntries(w.book.id, n)
	for _, r := range all {
		out = append(out, exported(r, w.book.zone))
	}
	return out, err
}

// said are the reminders made of a subject.
func (w *walk) said(kind string, n int64) ([]ExportedSaid, error) {
	rows, err := w.tx.Said(w.book.id, kind, n)
	if err != nil {
		return nil, err
	}
	at := func(t time.Time) string {
		if t.IsZero() {
			return ""
		}
		return t.In(w.book.zone).Format(time.RFC3339Nano)
	}
	var out []ExportedSaid
	for _, r := range rows {
		out = append(out, ExportedSaid{r.Rule, r.Anchor, r.Occurrence, at(r.MadeAt), at(r.Due), at(r.AnsweredAt), r.Answer, at(r.SnoozedTo), r.Muted})
	}
	return out, nil
}

// ExportJSON writes a book as one document (see Document), holding one batch at a
// time. Errors: store.ErrNotFound, the writer's.
func (b *Bot) ExportJSON(ctx context.Context, tx *store.Tx, id int64, now time.Time, to io.Writer) error {
	w := bufio.NewWriterSize(to, 1<<16)
	var one bytes.Buffer
	enc := json.NewEncoder(&one)
	enc.SetEscapeHTML(false) // what was typed stays readable
	piece := func(v any) (string, error) {
		one.Reset()
		err := enc.Encode(v)
		return strings.TrimSuffix(one.String(), "\n"), err
	}
	first := true
	err := b.leave(ctx, tx, id, now, func(d Document) error {
		t, err := piece(d)
		w.WriteString(strings.TrimSuffix(t, "]}")) // the batches, the last part of all, are to come
		return err
	}, func(x ExportedBatch, _ *ferment.State) error {
		t, err := piece(x)
		if err != nil {
			return err
		}
		if !first {
			w.WriteByte(',')
		}
		first = false
		_, err = w.WriteString(t)
		return err
	})
	if err != nil {
		return fmt.Errorf("export: %w", err)
	}
	w.WriteString("]}\n")
	return w.Flush()
}

// ExportCSV writes entries.csv, batches.csv and bottles.csv (RFC 4180, UTF-8), each
// into what create gives for its name, holding one batch at a time.
func (b *Bot) ExportCSV(ctx context.Context, tx *store.Tx, id int64, now time.Time, create func(name string) (io.WriteCloser, error)) (err error) {
	var entries, batches, bottles *sheet
	for _, f := range []struct {
		to   **sheet
		name string
		head []string
	}{{&entries, EntriesCSV, entryHead}, {&batches, BatchesCSV, batchHead}, {&bottles, BottlesCSV, bottleHead}} {
		w, err := create(f.name)
		if err != nil {
			return err
		}
		defer func() {
			if e := w.Close(); err == nil {
				err = e
			}
		}()
		*f.to = newSheet(w)
		(*f.to).row(f.head...)
	}
	err = b.leave(ctx, tx, id, now, func(d Document) error {
		entries.entries(0, "", d.House)
		return entries.w.Error()
	}, func(x ExportedBatch, s *ferment.State) error {
		entries.entries(x.N, x.Name, x.Entries)
		if x.State != nil {
			batches.batch(x.State)
			if s.BottlesMade > 0 {
				bottles.row(s.Name, strconv.Itoa(s.BottlesMade), strconv.Itoa(s.BottlesLeft), strconv.FormatFloat(s.BottleML, 'f', -1, 64))
			}
		}
		return entries.w.Error()
	})
	for _, s := range []*sheet{entries, batches, bottles} {
		s.w.Flush()
		if err == nil {
			err = s.w.Error()
		}
	}
	return err
}

// The files of an export for spreadsheets.
const (
	EntriesCSV = "entries.csv"
	BatchesCSV = "batches.csv"
	BottlesCSV = "bottles.csv"
)

var (
	entryHead = []string{"batch", "name", "id", "root", "supersedes", "void", "at", "day_only", "quantity", "value", "unit", "typed", "deed", "material",
		"text", "by", "author", "typed_at"}
	batchHead  = []string{"n", "batch", "kind", "stage", "conditions", "og", "sg", "abv", "abv_doubt", "sugar_left_g_per_L", "volume_L", "stopped"}
	bottleHead = []string{"batch", "made", "left", "size_ml"}
)

// sheet is a table for a spreadsheet. Its error waits in the writer.
type sheet struct{ w *csv.Writer }

func newSheet(w io.Writer) *sheet {
	c := csv.NewWriter(w)
	c.UseCRLF = true
	return &sheet{c}
}

// row writes a line; a ' goes before a cell that a spreadsheet would take for a
// formula.
func (s *sheet) row(cells ...string) {
	safe := make([]string, len(cells))
	for i, c := range cells {
		if c != "" && strings.ContainsRune("=+-@", rune(c[0])) {
			c = "'" + c
		}
		safe[i] = c
	}
	_ = s.w.Write(safe)
}

func (s *sheet) entries(n int, name string, es []ExportedEntry) {
	for _, e := range es {
		s.row(strconv.Itoa(n), name, strconv.FormatInt(e.ID, 10), strconv.FormatInt(e.Root, 10), strconv.FormatInt(e.Supersedes, 10), strconv.FormatBool(e.Void), e.At,
			strconv.FormatBool(e.DayOnly), e.Quantity, cell(e.Value), e.Unit, e.Typed, e.Deed, e.Material, e.Text, e.By, e.AuthorName, e.TypedAt)
	}
}

func (s *sheet) batch(m *Summary) {
	s.row(strconv.Itoa(m.N), m.Batch, m.Kind, m.Stage, strings.Join(m.Conditions, "; "), cell(m.OG), cell(m.SG), cell(m.ABV), cell(m.ABVDoubt), cell(m.SugarLeft),
		cell(m.Volume), strconv.FormatBool(m.Stopped))
}

// cell is a figure, or nothing where it is not known.
func cell(v *float64) string {
	if v == nil {
		return ""
	}
	return strconv.FormatFloat(*v, 'f', -1, 64)
}
