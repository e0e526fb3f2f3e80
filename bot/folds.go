package bot

import (
	"sync"
	"time"

	"mustbook/ferment"
	"mustbook/store"
)

// folds remembers batches as they were folded last, each under the marks of the
// entries it rests on. A mark that has moved makes what is remembered worthless; so
// nothing has to be told when an entry is written, taken back or rolled back. A Bot
// speaks over one database.
type folds struct {
	mu   sync.Mutex
	kept map[foldKey]folded
}

type foldKey struct {
	book  int64
	batch int
}

type folded struct {
	mark, house, parent store.Mark
	entries             []ferment.Entry // never changed by anybody
	state               *ferment.State  // nil: its beginning was taken back
}

// foldsKept bounds the memory: a batch with a hundred readings is some 200 kB.
const foldsKept = 128

func (f *folds) get(k foldKey) (folded, bool) {
	f.mu.Lock()
	defer f.mu.Unlock()
	x, ok := f.kept[k]
	return x, ok
}

func (f *folds) put(k foldKey, x folded) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if f.kept == nil {
		f.kept = map[foldKey]folded{}
	}
	if len(f.kept) >= foldsKept {
		for old := range f.kept { // any one: the map's order is as good as another
			delete(f.kept, old)
			break
		}
	}
	f.kept[k] = x
}

// loading reads one book with the help of what is remembered.
type loading struct {
	b     *Bot
	tx    *store.Tx
	id    int64
	marks map[int]store.Mark
}

func (l *loading) key(n int) foldKey { return foldKey{l.id, n} }

// house returns the house's live entries.
func (l *loading) house() ([]ferment.Entry, error) {
	if x, ok := l.b.folds.get(l.key(0)); ok && x.mark == l.marks[0] {
		return x.entries, nil
	}
	es, err := l.tx.Entries(l.id, 0)
	if err == nil {
		l.b.folds.put(l.key(0), folded{mark: l.marks[0], entries: es})
	}
	return es, err
}

// batch puts one batch into the book, folded anew where a mark has moved. A
// message that is left out makes a fold that is not remembered.
func (l *loading) batch(bk *book, n int, now time.Time, without int64) error {
	mark := l.marks[n]
	if mark == (store.Mark{}) {
		return nil
	}
	if x, ok := l.b.folds.get(l.key(n)); ok && without == 0 && x.mark == mark && x.house == l.marks[0] && x.parent == l.marks[parentOf(x.entries)] {
		s := x.state
		if s != nil {
			s = s.At(now)
		}
		bk.add(n, x.entries, s)
		return nil
	}
	es, err := l.tx.Entries(l.id, n)
	if err != nil {
		return err
	}
	es = leaveOut(es, without)
	s := bk.fold(n, es, now)
	bk.add(n, es, s)
	if without == 0 {
		l.b.folds.put(l.key(n), folded{mark: mark, house: l.marks[0], parent: l.marks[parentOf(es)], entries: es, state: s})
	}
	return nil
}

// parentOf is the batch that one was split from; -1 where it was not.
func parentOf(es []ferment.Entry) int {
	for _, e := range es {
		if e.Quantity == ferment.QParent {
			return e.Other
		}
	}
	return -1
}
