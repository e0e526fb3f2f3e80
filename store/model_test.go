package store

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"pgregory.net/rapid"

	"mustbook/ferment"
)

// line is what the model knows of a root: its versions, and whether it is taken
// back. A map of lines is the whole book.
type line struct {
	batch int
	value float64
	void  bool
}

type model struct {
	roots []int64
	lines map[int64]line

	versions map[uint64]string // sets of rows that a version named, until a restart
}

// TestEntriesAgainstModel runs random additions, repairs, undoings, revivals,
// failing members of a batch, redeliveries and restarts against a map in memory.
func TestEntriesAgainstModel(t *testing.T) {
	w := mustWorld(t)
	path := w.db.path
	rapid.Check(t, func(r *rapid.T) {
		m := &model{lines: map[int64]line{}, versions: map[uint64]string{}}
		batches := w.anew()
		pick := func(r *rapid.T) int64 {
			if len(m.roots) == 0 {
				r.Skip("nothing to change yet")
			}
			return rapid.SampledFrom(m.roots).Draw(r, "root")
		}
		r.Repeat(map[string]func(*rapid.T){
			"add": func(r *rapid.T) {
				n, batch := rapid.IntRange(1, 4).Draw(r, "n"), rapid.SampledFrom(batches).Draw(r, "batch")
				w.update(func(tx *Tx) error {
					msg := w.say(tx, "several", noon)
					var es []ferment.Entry
					for i := range n {
						es = append(es, gravity(msg, batch, i, 1+float64(rapid.IntRange(990, 1150).Draw(r, "sg"))/1e6))
					}
					got, err := tx.AddEntries(w.a.ID, es)
					for _, e := range got {
						m.roots = append(m.roots, e.Root)
						m.lines[e.Root] = line{batch, e.Value, false}
					}
					return err
				})
			},
			"repair": func(r *rapid.T) {
				root, batch := pick(r), rapid.SampledFrom(batches).Draw(r, "batch")
				w.update(func(tx *Tx) error {
					e := gravity(w.say(tx, "no, …", noon), batch, 0, rapid.Float64Range(0.98, 1.2).Draw(r, "sg"))
					e.Root = root
					_, err := tx.AddEntries(w.a.ID, []ferment.Entry{e})
					m.lines[root] = line{batch, e.Value, false}
					return err
				})
			},
			"undo": func(r *rapid.T) {
				root := pick(r)
				w.update(func(tx *Tx) error { return tx.VoidRoots(w.a.ID, []int64{root}, w.tom.ID, noon) })
				l := m.lines[root]
				l.void = true
				m.lines[root] = l
			},
			"redo": func(r *rapid.T) {
				root := pick(r)
				w.update(func(tx *Tx) error { return tx.ReviveRoots(w.a.ID, []int64{root}) })
				l := m.lines[root]
				l.void = false
				m.lines[root] = l
			},
			"fail": func(r *rapid.T) {
				root := pick(r)
				errs := w.db.Batch(ctx, []func(*Tx) error{func(tx *Tx) error {
					if err := tx.VoidRoots(w.a.ID, []int64{root}, w.tom.ID, noon); err != nil {
						return err
					}
					panic("after the work")
				}})
				if errs[0] == nil {
					r.Fatal("no error")
				}
			},
			"restart": func(r *rapid.T) {
				if rapid.IntRange(0, 9).Draw(r, "seldom") != 0 {
					return // the slowest of all, by far
				}
				w.db.Close()
				w.db = mustOpen(t, path) // the clean-up of mustOpen closes it
				clear(m.versions)
			},
			"": func(r *rapid.T) { m.compare(r, w, batches) },
		})
	})
}

// anew begins another book in the same file, in the first one's place, and gives
// its batches: the house and two. Making a file takes longer than a whole run.
func (w *world) anew() []int {
	w.t.Helper()
	var first, second int
	w.update(func(tx *Tx) (err error) {
		var errs [4]error
		w.a, errs[0] = tx.CreateBook("north", noon)
		w.cellar.Book = w.a.ID
		w.cellar, errs[1] = tx.PutChat(w.cellar)
		first, errs[2] = tx.NewBatch(w.a.ID, noon)
		second, errs[3] = tx.NewBatch(w.a.ID, noon)
		return errors.Join(errs[:]...)
	})
	return []int{0, first, second}
}

func (m *model) compare(r *rapid.T, w *world, batches []int) {
	type row struct {
		Root  int64
		Value float64
	}
	byRoot := cmpopts.SortSlices(func(a, b row) bool { return a.Root < b.Root })
	err := w.db.View(ctx, func(tx *Tx) error {
		for _, b := range batches {
			var want, got []row
			for _, root := range m.roots {
				if l := m.lines[root]; l.batch == b && !l.void {
					want = append(want, row{root, l.value})
				}
			}
			es, err := tx.Entries(w.a.ID, b)
			if err != nil {
				return err
			}
			for _, e := range es {
				got = append(got, row{e.Root, e.Value})
			}
			if d := cmp.Diff(want, got, byRoot, cmpopts.EquateEmpty()); d != "" {
				r.Fatalf("batch %d: %s", b, d)
			}
			m.shelved(r, w, b, es)
		}
		return m.chains(r, tx, w)
	})
	if err != nil {
		r.Fatal(err)
	}
}

// shelved looks that the writing connection remembers just what the file holds, and
// that the same version never names two sets.
func (m *model) shelved(r *rapid.T, w *world, batch int, inFile []ferment.Entry) {
	w.update(func(tx *Tx) error {
		es, version, err := tx.Live(w.a.ID, batch)
		if d := cmp.Diff(inFile, es, cmpopts.EquateEmpty()); d != "" {
			r.Fatalf("batch %d: the shelf differs from the file: %s", batch, d)
		}
		ids := fmt.Sprint(w.a.ID, batch)
		for _, e := range es {
			ids += fmt.Sprint(" ", e.ID)
		}
		if was, ok := m.versions[version]; ok && was != ids {
			r.Fatalf("version %d names %q and %q", version, was, ids)
		}
		m.versions[version] = ids
		return err
	})
}

// chains looks that of every root exactly the newest row is live, or none where it
// is taken back, and that every other is superseded by the next.
func (m *model) chains(r *rapid.T, tx *Tx, w *world) error {
	for _, root := range m.roots {
		rows, err := tx.Chain(w.a.ID, root)
		if err != nil {
			return err
		}
		for i, row := range rows {
			newest := i == len(rows)-1
			if row.Live != (newest && !m.lines[root].void) {
				r.Fatalf("root %d, row %d of %d: live %v", root, i, len(rows), row.Live)
			}
			if i > 0 && row.Supersedes != rows[i-1].ID {
				r.Fatalf("root %d, row %d supersedes %d", root, i, row.Supersedes)
			}
		}
	}
	return nil
}

// TestStampKeepsOrder: text order is time order, whatever the zone, to the
// millisecond.
func TestStampKeepsOrder(t *testing.T) {
	rapid.Check(t, func(r *rapid.T) {
		var texts []string
		var times []time.Time
		for range 5 {
			zone := time.FixedZone("", rapid.IntRange(-14*3600, 14*3600).Draw(r, "zone"))
			at := time.UnixMilli(rapid.Int64Range(0, 250e9*1000).Draw(r, "at")).In(zone) // to the year 9892
			times, texts = append(times, at), append(texts, toText(at))
		}
		slices.SortFunc(times, time.Time.Compare)
		slices.Sort(texts)
		for i, s := range texts {
			var back time.Time
			if err := at(&back).Scan(s); err != nil || !back.Equal(times[i]) || len(s) != 24 {
				r.Fatalf("%s is %v, want %v (%v)", s, back, times[i], err)
			}
		}
	})
}

// TestSubjectsAgainstModel: whatever is rewritten, what is due comes and nothing
// else.
func TestSubjectsAgainstModel(t *testing.T) {
	db := mustOpen(t, filepath.Join(t.TempDir(), "book.db"))
	rapid.Check(t, func(r *rapid.T) {
		due := map[int64]time.Time{}
		mustUpdate(t, db, func(tx *Tx) error {
			if err := tx.exec("DELETE FROM book"); err != nil {
				return err
			}
			b, err := tx.CreateBook("north", noon)
			for range rapid.IntRange(0, 20).Draw(r, "writes") {
				n := rapid.Int64Range(1, 6).Draw(r, "n")
				at := noon.Add(time.Duration(rapid.IntRange(-3, 3).Draw(r, "hours")) * time.Hour)
				if rapid.IntRange(0, 4).Draw(r, "never") == 0 {
					at = time.Time{}
				}
				due[n] = at
				if err := tx.SetNextDue(Subject{b.ID, "batch", n, at}); err != nil {
					return err
				}
			}
			return err
		})
		want := 0
		for _, at := range due {
			if !at.IsZero() && !at.After(noon) {
				want++
			}
		}
		mustView(t, db, func(tx *Tx) error {
			got, err := tx.DueSubjects(noon, 100)
			for i, s := range got {
				if !s.NextDue.Equal(due[s.N]) || i > 0 && s.NextDue.Before(got[i-1].NextDue) {
					r.Fatalf("%+v", got)
				}
			}
			if len(got) != want {
				r.Fatalf("%d due, want %d", len(got), want)
			}
			return err
		})
	})
}
