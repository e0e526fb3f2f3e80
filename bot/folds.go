package bot

import (
	"maps"
	"sync"
	"time"

	"mustbook/bot/parse"
	"mustbook/ferment"
	"mustbook/store"
)

// memory remembers what was derived of batches, each under the versions of the
// entries it rests on. Entries that change have another version, which makes what is
// remembered worthless; so nothing has to be told when one is written, taken back or
// rolled back. It may be dropped at any time. A Bot speaks over one database.
type memory[V interface{ weight() int }] struct {
	mu     sync.Mutex
	kept   map[foldKey]V
	weight int
}

// memoryHolds bounds the memory: the folds by entries, each some two kilobytes of a
// state, the lookouts by batches.
const memoryHolds = 20_000

func (m *memory[V]) get(k foldKey) (V, bool) {
	m.mu.Lock()
	defer m.mu.Unlock()
	x, ok := m.kept[k]
	return x, ok
}

func (m *memory[V]) put(k foldKey, x V) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.kept == nil {
		m.kept = map[foldKey]V{}
	}
	m.drop(k)
	for old := range m.kept { // any one: the map's order is as good as another
		if m.weight+x.weight() <= memoryHolds {
			break
		}
		m.drop(old)
	}
	m.kept[k] = x
	m.weight += x.weight()
}

func (m *memory[V]) drop(k foldKey) {
	if x, ok := m.kept[k]; ok {
		m.weight -= x.weight()
		delete(m.kept, k)
	}
}

type foldKey struct {
	book  int64
	batch int
}

type folded struct {
	own, house uint64         // versions
	others     map[int]uint64 // versions of the batches it speaks of: split from, blended with
	rows       int
	state      *ferment.State // nil: its beginning was taken back; never changed
	kept       *ferment.Kept  // from where the next fold may go on
	known      *described
}

// described is what the understanding of messages was told of a state: the same state is
// described once.
type described struct {
	of *ferment.State
	parse.Batch
}

func (x folded) at(now time.Time) *ferment.State {
	if x.state == nil {
		return nil
	}
	return x.state.At(now)
}

func (x folded) weight() int { return x.rows }

// loading reads one book with the help of what is remembered.
type loading struct {
	b     *Bot
	tx    *store.Tx
	id    int64
	house uint64 // the version of the house's entries
}

// live are the live entries of a batch, and which set of them it is.
type live struct {
	entries []ferment.Entry
	version uint64 // 0: nothing is remembered
}

func (l *loading) entries(n int) (live, error) {
	es, version, err := l.tx.Live(l.id, n)
	if n == 0 {
		l.house = version
	}
	return live{es, version}, err
}

// batch puts one batch into the book, folded anew where its entries, the house's or
// those of a batch it speaks of are others than before. A message that is left out
// makes a fold that is not remembered.
func (l *loading) batch(bk *book, n int, now time.Time, without int64) error {
	own, err := l.entries(n)
	if err != nil || len(own.entries) == 0 {
		return err
	}
	k := foldKey{l.id, n}
	x, known := l.b.folds.get(k)
	known = known && without == 0 && own.version != 0 && x.own == own.version && x.house == l.house
	others, versions := map[int][]ferment.Entry(nil), map[int]uint64(nil)
	if !known || len(x.others) > 0 { // the same entries speak of the same batches
		if ns := ferment.Sources(own.entries); len(ns) > 0 {
			others, versions = map[int][]ferment.Entry{}, map[int]uint64{}
			if err := l.spoken(ns, without, others, versions); err != nil {
				return err
			}
		}
	}
	bk.versions[n] = together(own.version, versions)
	if known && maps.Equal(x.others, versions) {
		bk.add(n, own.entries, x.at(now))
		bk.described[n] = x.known
		return nil
	}
	es := leaveOut(own.entries, without)
	if x.house != l.house || without != 0 {
		x.kept = nil
	}
	s, kept := bk.fold(n, es, others, now, x.kept)
	bk.add(n, es, s)
	if without == 0 && own.version != 0 {
		bk.described[n] = &described{}
		l.b.folds.put(k, folded{own: own.version, house: l.house, others: versions, rows: len(es), state: s, kept: kept, known: bk.described[n]})
	}
	return nil
}

// together is one number for the versions that a fold rests on; 0 where nothing is
// remembered. What is derived from the fold is kept under it.
func together(own uint64, others map[int]uint64) uint64 {
	if own == 0 {
		return 0
	}
	sum := own
	for _, v := range others { // in any order
		sum += v * 0x9e3779b97f4a7c15 // 2^64 over the golden ratio: spreads the small numbers
	}
	return sum
}

// spoken gathers the entries of some batches, and of those that these speak of.
func (l *loading) spoken(ns []int, without int64, into map[int][]ferment.Entry, versions map[int]uint64) error {
	for _, n := range ns {
		if _, seen := into[n]; seen || n <= 0 {
			continue
		}
		x, err := l.entries(n)
		if err != nil {
			return err
		}
		into[n], versions[n] = leaveOut(x.entries, without), x.version
		if err := l.spoken(ferment.Sources(into[n]), without, into, versions); err != nil {
			return err
		}
	}
	return nil
}
