package store

import (
	"slices"
	"time"

	"mustbook/ferment"
)

// shelf is what the writing connection remembers of the file: a household's message
// reads the same few rows as the one before it. Whoever writes such rows says so
// with wrote or mends what lies here; a rollback drops all that was written under
// it, and a change by another connection drops everything. Only the transaction
// that writes may look, and there is one at a time.
type shelf struct {
	kept   map[string]map[shelfKey]shelved
	weight int
	last   uint64 // the newest version, never given twice
	data   int64  // PRAGMA data_version: moves when another connection commits
	next   ids
}

// ids are the next to be given, by table; one that is missing is to be asked for.
type ids map[string]int64

type shelfKey struct{ book, n, m int64 }

type shelved struct {
	value   any
	version uint64
	weight  int
}

// shelfHolds bounds the memory, in rows: an entry is half a kilobyte.
const shelfHolds = 40_000

// What the shelf has, by name.
const (
	shelfEntries  = "entries"  // book, batch: the live ones
	shelfBatches  = "batches"  // book: the numbers
	shelfMembers  = "members"  // book: those present
	shelfFocus    = "focus"    // chat
	shelfQuestion = "question" // chat, member
	shelfForecast = "forecast" // book, batch
	shelfMeta     = "meta "    // and the key
	shelfSeen     = "seen"     // chat, member: when
	shelfChats    = "chats"    // book
	shelfChat     = "chat "    // and the platform: its id there
	shelfSaid     = "said "    // and the kind of subject: book, n
	shelfDue      = "due "     // and the kind of subject: book, n: as last written
	shelfOut      = "out"      // id: an answer that was made and is due
)

func (s *shelf) get(of string, k shelfKey) (shelved, bool) {
	x, ok := s.kept[of][k]
	return x, ok
}

func (s *shelf) put(of string, k shelfKey, v any, weight int) uint64 {
	if s.kept == nil {
		s.kept = map[string]map[shelfKey]shelved{}
	}
	s.drop(of, k)
	for s.weight+weight > shelfHolds && s.weight > 0 {
		s.evict()
	}
	if s.kept[of] == nil {
		s.kept[of] = map[shelfKey]shelved{}
	}
	s.last++
	s.kept[of][k] = shelved{v, s.last, weight}
	s.weight += weight
	return s.last
}

func (s *shelf) drop(of string, k shelfKey) {
	if x, ok := s.kept[of][k]; ok {
		s.weight -= x.weight
		delete(s.kept[of], k)
		if len(s.kept[of]) == 0 {
			delete(s.kept, of)
		}
	}
}

func (s *shelf) dropAll(of string) {
	for _, x := range s.kept[of] {
		s.weight -= x.weight
	}
	delete(s.kept, of)
}

// evict makes room: any one will do, the map's order is as good as another.
func (s *shelf) evict() {
	for of, m := range s.kept {
		for k := range m {
			s.drop(of, k)
			break
		}
	}
}

func (s *shelf) clear() { s.kept, s.weight, s.next = nil, 0, nil }

// mark is a place on the shelf that a transaction wrote. A mark without a name is
// everything.
type mark struct {
	of  string
	k   shelfKey
	all bool
}

// wrote says that rows were written which the shelf may hold.
func (tx *Tx) wrote(of string, k shelfKey) {
	if tx.shelf != nil {
		tx.shelf.drop(of, k)
		tx.written = append(tx.written, mark{of: of, k: k})
	}
}

// wroteAll says so of all that lies under a name.
func (tx *Tx) wroteAll(of string) {
	if tx.shelf != nil {
		tx.shelf.dropAll(of)
		tx.written = append(tx.written, mark{of: of, all: true})
	}
}

// wroteMuch says so of rows that are not worth naming.
func (tx *Tx) wroteMuch() {
	if tx.shelf != nil {
		tx.shelf.clear()
		tx.written = append(tx.written, mark{})
	}
}

// keep puts what was just written in the place of what was read before.
func (tx *Tx) keep(of string, k shelfKey, v any, weight int) {
	if tx.shelf != nil {
		tx.shelf.put(of, k, v, weight)
		tx.written = append(tx.written, mark{of: of, k: k})
	}
}

// unwrite drops what was written since the mark of that index: it is undone.
func (tx *Tx) unwrite(since int) {
	if tx.shelf == nil {
		return
	}
	for _, m := range tx.written[since:] {
		switch {
		case m.of == "":
			tx.shelf.clear()
		case m.all:
			tx.shelf.dropAll(m.of)
		default:
			tx.shelf.drop(m.of, m.k)
		}
	}
	tx.written = tx.written[:since]
	tx.shelf.next, tx.fresh = nil, 0
}

// nextID is the next id of a table that never uses one again. It is given to the row and
// not asked back from it: a first entry holds its own as its root, and a row that is
// written behind is spoken of before it is there.
func (tx *Tx) nextID(table string) (int64, error) {
	if n, known := tx.shelf.next[table]; known {
		return n, nil
	}
	n, err := one(tx, scanInt, "SELECT COALESCE(MAX(seq), 0) + 1 FROM sqlite_sequence WHERE name = ?", table)
	if err != nil {
		return 0, err
	}
	if tx.shelf.next == nil {
		tx.shelf.next = ids{}
	}
	tx.shelf.next[table] = n
	return n, nil
}

// gave says that a row has the id.
func (tx *Tx) gave(table string, id int64) { tx.shelf.next[table] = id + 1 }

// looked checks that nobody else has written since the shelf was filled, and that what
// was is in the file.
func (tx *Tx) looked() error {
	v, err := tx.version()
	if torn := tx.db.torn.Swap(false); torn || err == nil && v != tx.shelf.data {
		tx.shelf.clear()
		tx.shelf.data = v
	}
	return err
}

// remembered reads through the shelf. Version names the value: it stays while the
// value does, and 0 says that nothing is remembered.
func remembered[T any](tx *Tx, of string, k shelfKey, weigh func(T) int, read func() (T, error)) (v T, version uint64, err error) {
	if tx.shelf == nil {
		v, err = read()
		return v, 0, err
	}
	if x, ok := tx.shelf.get(of, k); ok {
		return x.value.(T), x.version, nil
	}
	if v, err = read(); err != nil {
		return v, 0, err
	}
	return v, tx.shelf.put(of, k, v, weigh(v)), nil
}

func rowsOf[T any](v []T) int { return 1 + len(v) }

func oneRow[T any](T) int { return 1 }

// shelve brings the live entries of a batch on the shelf up to a row that was written:
// the row of its root goes, and a live one comes on top.
func (tx *Tx) shelve(book int64, r *EntryRow) {
	if tx.shelf == nil {
		return
	}
	k := shelfKey{book, int64(r.Batch), 0}
	x, ok := tx.shelf.get(shelfEntries, k)
	if !ok {
		tx.wrote(shelfEntries, k) // a rollback must drop what is read after this
		return
	}
	es := x.value.([]ferment.Entry)
	if r.Supersedes != 0 {
		es = slices.DeleteFunc(slices.Clone(es), func(e ferment.Entry) bool { return e.Root == r.Root })
	}
	if !r.Void {
		e := r.Entry
		e.At, e.TypedAt = asRead(e.At), asRead(e.TypedAt)
		es = append(es, e)
	}
	tx.keep(shelfEntries, k, es, rowsOf(es))
}

// asRead is an instant as it comes back from the file.
func asRead(t time.Time) time.Time { return t.UTC().Truncate(time.Millisecond) }
