package bot

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"sort"
	"strconv"
	"strings"
	"time"

	"mustbook/ferment"
	"mustbook/store"
)

// Taken is a file read for import: a whole book, or a table of readings.
type Taken struct {
	doc  *Document
	rows []tableRow
}

// tableRow is a line of a table of date, gravity, temperature.
type tableRow struct {
	at      time.Time
	day     bool
	sg      float64
	typed   string
	temp    *float64
	tempRaw string
}

// ReadImport reads an export, or a CSV of date, gravity and perhaps temperature in
// °C. It changes nothing.
func ReadImport(raw []byte) (*Taken, error) {
	raw = bytes.TrimPrefix(raw, []byte("\xef\xbb\xbf"))
	if b := bytes.TrimSpace(raw); len(b) > 0 && b[0] == '{' {
		var d Document
		if err := json.Unmarshal(b, &d); err != nil {
			return nil, fmt.Errorf("not an export of mustbook: %w", err)
		}
		if d.Version != exportVersion {
			return nil, fmt.Errorf("an export of version %d; this program reads %d", d.Version, exportVersion)
		}
		return &Taken{doc: &d}, nil
	}
	return readTable(raw)
}

func readTable(raw []byte) (*Taken, error) {
	c := csv.NewReader(bytes.NewReader(raw))
	c.FieldsPerRecord = -1
	if !bytes.Contains(raw, []byte(",")) || bytes.Count(raw, []byte(";")) > bytes.Count(raw, []byte("\n"))/2 {
		c.Comma = ';'
	}
	lines, err := c.ReadAll()
	if err != nil {
		return nil, fmt.Errorf("not a table: %w", err)
	}
	t := &Taken{}
	for i, l := range lines {
		r, err := readRow(l)
		if err != nil {
			if i == 0 {
				continue // a heading
			}
			return nil, fmt.Errorf("line %d: %w", i+1, err)
		}
		t.rows = append(t.rows, r)
	}
	if len(t.rows) == 0 {
		return nil, errors.New("no line with a date and a gravity")
	}
	return t, nil
}

var tableDates = []string{"2006-01-02 15:04:05", "2006-01-02 15:04", "2006-01-02T15:04", "2006-01-02T15:04:05", time.RFC3339, "2006-01-02", "02.01.2006", "2 Jan 2006"}

func readRow(l []string) (tableRow, error) {
	if len(l) < 2 {
		return tableRow{}, errors.New("wants a date and a gravity")
	}
	var r tableRow
	for _, form := range tableDates {
		if at, err := time.Parse(form, strings.TrimSpace(l[0])); err == nil {
			r.at, r.day = at, !strings.Contains(form, "15")
			break
		}
	}
	if r.at.IsZero() {
		return r, fmt.Errorf("no date: %q; write it like 2026-05-03", l[0])
	}
	r.typed = strings.TrimSpace(l[1])
	sg, err := strconv.ParseFloat(strings.Replace(r.typed, ",", ".", 1), 64)
	if err != nil || sg < 0.975 || sg > 1.2 {
		return r, fmt.Errorf("no gravity: %q; write it like 1.048", l[1])
	}
	r.sg = sg
	if len(l) > 2 && strings.TrimSpace(l[2]) != "" {
		r.tempRaw = strings.TrimSpace(l[2])
		t, err := strconv.ParseFloat(strings.Replace(r.tempRaw, ",", ".", 1), 64)
		if err != nil || t < -5 || t > 60 {
			return r, fmt.Errorf("no temperature in °C: %q", l[2])
		}
		r.temp = &t
	}
	return r, nil
}

// Preview says what would be put in, before it is asked for.
func (t *Taken) Preview() []string {
	if t.doc != nil {
		n := len(t.doc.House)
		for _, b := range t.doc.Batches {
			n += len(b.Entries)
		}
		return []string{fmt.Sprintf("A book of mustbook: %d batches, %d entries", len(t.doc.Batches), n)}
	}
	first, last := t.rows[0], t.rows[len(t.rows)-1]
	return []string{fmt.Sprintf("A table of %d readings", len(t.rows)),
		fmt.Sprintf("first: %s %s, last: %s %s", first.at.Format("2006-01-02"), first.typed, last.at.Format("2006-01-02"), last.typed)}
}

// ErrNotEmpty says that an export goes into an empty book only.
var ErrNotEmpty = errors.New("the book is not empty; take an export into an empty one")

// Import puts a file into a book: one message, undone as one. It returns how many
// entries it wrote.
func (b *Bot) Import(tx *store.Tx, book int64, t *Taken, now time.Time) (int, error) {
	books, err := tx.Books()
	if err != nil {
		return 0, err
	}
	if len(books) == 0 {
		if _, err := tx.CreateBook("home", now); err != nil {
			return 0, err
		}
	}
	if _, err := tx.Book(book); err != nil {
		return 0, fmt.Errorf("book %d: %w", book, err)
	}
	keeper, chat, err := b.importer(tx, book, now)
	if err != nil {
		return 0, err
	}
	msg, _, err := tx.AddMessage(store.Message{Book: book, Chat: chat, Member: keeper.ID, OriginChat: -1 << 40, PlatformMessage: now.UnixNano(), At: now, Kind: "import"})
	if err != nil {
		return 0, err
	}
	if t.doc != nil {
		return importBook(tx, book, t.doc, msg.ID)
	}
	return b.importTable(tx, book, t.rows, msg, keeper)
}

// importer is the keeper of a book and their place in the terminal.
func (b *Bot) importer(tx *store.Tx, book int64, now time.Time) (store.Member, int64, error) {
	members, err := tx.Members(book)
	if err != nil {
		return store.Member{}, 0, err
	}
	var keeper store.Member
	for _, m := range members {
		if m.Keeper {
			keeper = m
		}
	}
	if keeper.ID == 0 {
		if keeper, err = tx.AddMember(store.Member{Book: book, Name: "keeper", Keeper: true, Joined: now}); err != nil {
			return keeper, 0, err
		}
	}
	c, err := tx.PutChat(store.Chat{Book: book, Platform: "console", PlatformID: keeper.ID, Kind: "private", Title: keeper.Name, Member: keeper.ID, Admitted: true})
	return keeper, c.ID, err
}

// importBook writes the rows of an export in their order, chains and all.
func importBook(tx *store.Tx, book int64, d *Document, msg int64) (int, error) {
	numbers, err := tx.BatchNumbers(book)
	if err != nil {
		return 0, err
	}
	if len(numbers) > 0 {
		return 0, ErrNotEmpty
	}
	type row struct {
		e     ExportedEntry
		batch int
	}
	var rows []row
	for _, e := range d.House {
		rows = append(rows, row{e, 0})
	}
	at, last := time.Unix(0, 0), 0
	for _, b := range d.Batches {
		for last < b.N {
			if last, err = tx.NewBatch(book, at); err != nil {
				return 0, err
			}
		}
		for _, e := range b.Entries {
			rows = append(rows, row{e, b.N})
		}
	}
	roots := map[int64]int64{0: 0}
	sort.SliceStable(rows, func(i, j int) bool { return rows[i].e.ID < rows[j].e.ID })
	for i, r := range rows {
		e, err := r.e.entry(r.batch)
		if err != nil {
			return 0, err
		}
		e.Root, e.Of = roots[r.e.Root], roots[r.e.Of]
		e.Message, e.Ordinal = msg, i
		if r.e.Void {
			if err := tx.VoidRoots(book, []int64{e.Root}, e.Author, e.TypedAt); err != nil {
				return 0, err
			}
			continue
		}
		out, err := tx.AddEntries(book, []ferment.Entry{e})
		if err != nil {
			return 0, err
		}
		if e.Root == 0 {
			roots[r.e.Root] = out[0].Root
		}
	}
	return len(rows), nil
}

// importTable begins a batch and puts the readings of a table in.
func (b *Bot) importTable(tx *store.Tx, book int64, rows []tableRow, msg store.Message, keeper store.Member) (int, error) {
	bk, err := b.load(tx, book, msg.At, 0)
	if err != nil {
		return 0, err
	}
	n, err := tx.NewBatch(book, msg.At)
	if err != nil {
		return 0, err
	}
	base := ferment.Entry{Message: msg.ID, Batch: n, Author: keeper.ID, AuthorName: keeper.Name, TypedAt: msg.At}
	begun := base
	begun.Quantity, begun.Text, begun.At = ferment.QNewBatch, fmt.Sprintf("table %d", n), inZone(rows[0].at, bk.zone)
	es := []ferment.Entry{begun}
	for _, r := range rows {
		g := base
		g.Quantity, g.Value, g.Has, g.Unit, g.Typed, g.At, g.DayOnly = ferment.QSG, r.sg, true, "sg", r.typed, inZone(r.at, bk.zone), r.day
		if r.day {
			g.At = g.At.Add(12 * time.Hour)
		}
		es = append(es, g)
		if r.temp != nil {
			c := g
			c.Quantity, c.Value, c.Unit, c.Typed = ferment.QTemp, *r.temp, "C", r.tempRaw
			es = append(es, c)
		}
	}
	for i := range es {
		es[i].Ordinal = i
	}
	_, err = tx.AddEntries(book, es)
	return len(es), err
}

func inZone(t time.Time, zone *time.Location) time.Time {
	y, m, d := t.Date()
	return time.Date(y, m, d, t.Hour(), t.Minute(), t.Second(), 0, zone)
}
