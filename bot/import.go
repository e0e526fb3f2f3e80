package bot

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"path/filepath"
	"strings"
	"time"

	"mustbook/bot/say"
	"mustbook/store"
)

// Taken is a file read for import: a whole book, or a table of readings.
type Taken struct {
	name string // what the batch of a table is called
	doc  *Document
	rows []tableRow
	unit string // of a table's temperatures, as of an entry
}

// ReadImport reads an export, or a CSV of date, gravity and perhaps temperature. The
// file's name names the batch of a table; it may be empty. It changes nothing. Errors
// are for whoever sent the file.
func ReadImport(name string, raw []byte) (*Taken, error) {
	raw = bytes.TrimPrefix(raw, []byte("\xef\xbb\xbf"))
	if b := bytes.TrimSpace(raw); len(b) > 0 && b[0] == '{' {
		var d Document
		if err := json.Unmarshal(b, &d); err != nil {
			return nil, fmt.Errorf("not an export of mustbook: %w", err)
		}
		if d.Version != exportVersion {
			return nil, fmt.Errorf("an export of version %d; this program reads %d", d.Version, exportVersion)
		}
		if err := d.check(); err != nil {
			return nil, fmt.Errorf("not an export as mustbook writes it: %w", err)
		}
		return &Taken{doc: &d}, nil
	}
	t, err := readTable(raw)
	if err == nil {
		t.name = batchName(name)
	}
	return t, err
}

// batchName makes a batch's name of a file's: "Elder 24.csv" is elder 24; empty where
// nothing is left that can be typed.
func batchName(file string) string {
	file = strings.TrimSuffix(filepath.Base(file), filepath.Ext(file))
	words := strings.FieldsFunc(strings.ToLower(file), func(r rune) bool { return !nameLetter(r) })
	return say.Clip(strings.Join(words, " "), 24)
}

// Preview says what would be put in, before it is asked for.
func (t *Taken) Preview() []string {
	if t.doc != nil {
		n := len(t.doc.House)
		for _, b := range t.doc.Batches {
			n += len(b.Entries)
		}
		return []string{fmt.Sprintf("A book: %s, %s", say.Some(len(t.doc.Batches), "batch", "batches"), say.Some(n, "entry", "entries"))}
	}
	first, last := t.rows[0], t.rows[len(t.rows)-1]
	lines := []string{say.Some(len(t.rows), "reading", "readings") + ", a batch of its own",
		fmt.Sprintf("%s: %s", first.at.Format("2 Jan 2006"), first.typed), fmt.Sprintf("%s: %s", last.at.Format("2 Jan 2006"), last.typed)}
	if t.name != "" {
		lines[0] = fmt.Sprintf("%s: %s", say.Title(t.name), say.Some(len(t.rows), "reading", "readings"))
	}
	if n := t.warm(); n > 0 {
		lines = append(lines, fmt.Sprintf("%s in °%s", say.Some(n, "temperature", "temperatures"), t.unit))
	}
	return lines
}

// warm counts the temperatures of a table.
func (t *Taken) warm() int {
	n := 0
	for _, r := range t.rows {
		if r.temp != nil {
			n++
		}
	}
	return n
}

// ErrNotEmpty says that an export goes into an empty book only.
var ErrNotEmpty = errors.New("the book is not empty; take an export into an empty one")

// Import puts a file into a book from the shell, as its keeper: undone as one. It
// returns how many entries it wrote.
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
	msg, _, err := tx.AddMessage(store.Message{Book: book, Chat: chat, Member: keeper.ID, OriginChat: -1 << 40, PlatformMessage: now.UnixNano(), At: now, Kind: importKind})
	if err != nil {
		return 0, err
	}
	n, err := b.takeIn(tx, t, msg, keeper)
	if err != nil {
		return n, err
	}
	bk, err := b.load(tx, book, now, 0)
	if err != nil {
		return n, err
	}
	return n, b.newReminding(tx, bk, now).lookNext(time.Minute)
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
