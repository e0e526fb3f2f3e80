package bot

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"math/rand/v2"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"mustbook/ferment"
	"mustbook/store"
)

// cellar is a household's book with a clock.
type cellar struct {
	t    testing.TB
	db   *store.DB
	bot  *Bot
	who  store.Member
	chat store.Chat
	now  time.Time
	n    int64
}

func newCellar(t testing.TB) *cellar {
	t.Helper()
	c := &cellar{t: t, now: time.Date(2026, 3, 1, 18, 0, 0, 0, time.UTC)}
	r := rand.NewChaCha8([32]byte{7})
	db, err := store.Open(context.Background(), filepath.Join(t.TempDir(), "book.db"), store.Options{Now: func() time.Time { return c.now }, Rand: r})
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	c.db, c.bot = db, &Bot{Zone: time.LoadLocation, Default: time.UTC, Rand: r}
	c.update(func(tx *store.Tx) error {
		b, err := tx.CreateBook("home", c.now)
		if err != nil {
			return err
		}
		if c.who, err = tx.AddMember(store.Member{Book: b.ID, Name: "nora", Keeper: true, Joined: c.now}); err != nil {
			return err
		}
		c.chat, err = tx.PutChat(store.Chat{Book: b.ID, Platform: "script", PlatformID: 1, Kind: "private", Member: c.who.ID, Admitted: true})
		return err
	})
	return c
}

func (c *cellar) update(f func(*store.Tx) error) {
	c.t.Helper()
	if err := c.db.Update(context.Background(), f); err != nil {
		c.t.Fatal(err)
	}
}

// say types something a while later.
func (c *cellar) say(after time.Duration, text string) {
	c.t.Helper()
	c.now, c.n = c.now.Add(after), c.n+1
	c.update(func(tx *store.Tx) error {
		return c.bot.Handle(context.Background(), tx, Incoming{Chat: c.chat, Member: c.who, OriginChat: 1, MessageID: c.n, At: c.now, Now: c.now, Text: text})
	})
}

// as lets somebody else of the house speak.
func (c *cellar) as(name string) {
	c.update(func(tx *store.Tx) (err error) {
		c.who, err = tx.AddMember(store.Member{Book: c.chat.Book, Name: name, Joined: c.now})
		return err
	})
}

func (c *cellar) json() []byte {
	c.t.Helper()
	var w bytes.Buffer
	err := c.db.View(context.Background(), func(tx *store.Tx) error {
		return c.bot.ExportJSON(context.Background(), tx, c.chat.Book, c.now, &w)
	})
	if err != nil {
		c.t.Fatal(err)
	}
	return w.Bytes()
}

// lived is a book in which something of everything was done, repaired and taken back.
func lived(t testing.TB) *cellar {
	c := newCellar(t)
	h := time.Hour
	for _, text := range []string{"hydrometer 60f", "hydrometer reads 1.001 in water", "decimal comma", "quiet 22-8", "hydrometer long reads 1.002 in water", "my hydrometer is the long one", "bottle size 500 ml", "units uk", "new damson 23 l", "sg 1.086 at 24c",
		"no, 1.084", "added 1.2 kg sugar", "pitched", "serial 004711", "kit says rack at 1.012", `note: =2+3 smells of "pears", good`} {
		c.say(h, text)
	}
	c.as("tom")
	for _, text := range []string{"1.060 22c", "1.040 21c", "undo", "1.041", "21c"} {
		c.say(20*h, text)
	}
	for _, text := range []string{"new kit 21 l", "remind me on saturday to bottle the kit", "stop reminders", "split damson", "damson a 1.030 20c", "damson b racked", "5 g nutrient into damson a", "new gorse 9 l", "delete the gorse",
		"blended 1 l damson a with 1 l damson b"} {
		c.say(6*h, text)
	}
	return c
}

// What is streamed is the document that its types describe, byte for byte as an encoder
// that holds it whole would write it, and the states are those of the fold.
func TestExportIsTheDocument(t *testing.T) {
	c := lived(t)
	raw := c.json()
	var d Document
	dec := json.NewDecoder(bytes.NewReader(raw))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&d); err != nil {
		t.Fatal(err)
	}
	var again bytes.Buffer
	enc := json.NewEncoder(&again)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(d); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(raw, again.Bytes()) {
		t.Errorf("streamed %d bytes, whole %d", len(raw), again.Len())
	}
	blends := 0
	for _, b := range d.Batches {
		for _, e := range b.Entries {
			if e.Quantity == string(ferment.QBlend) {
				blends++
			}
		}
	}
	if blends == 0 {
		t.Error("nothing was blended")
	}
	rows := len(d.House)
	for _, b := range d.Batches {
		rows += len(b.Entries)
	}
	c.update(func(tx *store.Tx) error {
		bk, err := c.bot.load(tx, c.chat.Book, c.now, 0)
		if err != nil {
			return err
		}
		n := 0
		if err := tx.EachEntry(c.chat.Book, func(store.EntryRow) error { n++; return nil }); err != nil {
			return err
		}
		if n != rows || n < 30 {
			t.Errorf("%d rows of %d", rows, n)
		}
		whole := bk.scheduleHouse(c.now)
		w, err := c.bot.newWalk(t.Context(), tx, c.chat.Book, c.now)
		if err != nil {
			return err
		}
		if err := w.survey(); err != nil {
			return err
		}
		walked := w.house()
		whole.Zone, walked.Zone, whole.Own, walked.Own = nil, nil, nil, nil // those of the batch at hand
		whole.Instruments, walked.Instruments = nil, nil                    // no batch asks for them
		if d := cmp.Diff(whole, walked); d != "" {
			t.Errorf("a walk sees another cellar: %s", d)
		}
		return w.each(func(n int, s *ferment.State) error {
			if want := bk.batch(n); want != nil && (s == nil || s.ABV != want.ABV || s.Name != want.Name || s.Stage != want.Stage || s.VolumeL != want.VolumeL) {
				t.Errorf("batch %d: %+v, in the book %+v", n, s, want)
			}
			return nil
		})
	})
}

// A book that left and was taken into an empty one gives the same states, settings and
// people, and leaves as the same document but for the ids.
func TestRoundTrip(t *testing.T) {
	from := lived(t)
	raw := from.json()
	taken, err := ReadImport("mustbook.json", raw)
	if err != nil {
		t.Fatal(err)
	}
	to := newCellar(t)
	to.now = from.now
	to.update(func(tx *store.Tx) error { _, err := to.bot.Import(tx, to.chat.Book, taken, to.now); return err })
	var a, b Document
	if err := json.Unmarshal(raw, &a); err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(to.json(), &b); err != nil {
		t.Fatal(err)
	}
	for _, d := range []*Document{&a, &b} {
		plain(d)
	}
	if d := cmp.Diff(a, b); d != "" {
		t.Errorf("left (-) and came back (+):\n%s", d)
	}
	houses := [2]ferment.House{}
	for i, c := range []*cellar{from, to} {
		c.update(func(tx *store.Tx) error {
			bk, err := c.bot.load(tx, c.chat.Book, c.now, 0)
			houses[i] = bk.house
			houses[i].Remind = nil
			return err
		})
	}
	if d := cmp.Diff(houses[0], houses[1]); d != "" || houses[1].Quiet == "21:30-07:30" || !houses[1].Flags[commaFlag] {
		t.Errorf("settings: %s", d)
	}
}

// plain numbers the rows of a document anew in their order and forgets which message
// and which person has which id.
func plain(d *Document) {
	roots := map[int64]int64{0: 0}
	lists := [][]ExportedEntry{d.House}
	for _, b := range d.Batches {
		lists = append(lists, b.Entries)
	}
	for _, es := range lists {
		for i := range es {
			roots[es[i].ID] = int64(len(roots))
		}
	}
	for _, es := range lists {
		for i := range es {
			e := &es[i]
			e.ID, e.Root, e.Of, e.Supersedes = roots[e.ID], roots[e.Root], roots[e.Of], roots[e.Supersedes]
			e.Message, e.Author = 0, 0
		}
	}
	said := [][]ExportedSaid{d.Said}
	for _, b := range d.Batches {
		said = append(said, b.Said)
	}
	for _, ss := range said {
		for i := range ss {
			ss[i].Anchor = roots[ss[i].Anchor]
		}
	}
	for i := range d.Members {
		d.Members[i].ID = 0
	}
	d.Members = slices.DeleteFunc(d.Members, func(m ExportedMember) bool { return !m.Keeper }) // they have not joined the new book
}

// What was typed cannot become a formula in a spreadsheet, and what it quotes comes
// back (RFC 4180).
func TestCSV(t *testing.T) {
	c := lived(t)
	files := map[string]*bytes.Buffer{}
	err := c.db.View(t.Context(), func(tx *store.Tx) error {
		return c.bot.ExportCSV(t.Context(), tx, c.chat.Book, c.now, func(name string) (io.WriteCloser, error) {
			files[name] = &bytes.Buffer{}
			return shut{files[name]}, nil
		})
	})
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for name, w := range files {
		rows, err := csv.NewReader(w).ReadAll() // of equal width, else an error
		if err != nil || len(rows) < 1 {
			t.Errorf("%s: %d rows, %v", name, len(rows), err)
		}
		for _, r := range rows {
			for _, cell := range r {
				found = found || cell == `'=2+3 smells of "pears", good`
				if cell != "" && strings.ContainsAny(cell[:1], "=+-@") {
					t.Errorf("%s: the cell %q is a formula", name, cell)
				}
			}
		}
	}
	if len(files) != 3 || !found {
		t.Errorf("%d files, the note found: %v", len(files), found)
	}
}

// fill puts finished batches of so many readings into a book, past the conversation.
func (c *cellar) fill(batches, readings int) {
	c.t.Helper()
	at := c.now.AddDate(-3, 0, 0)
	for from := 0; from < batches; from += 100 {
		c.update(func(tx *store.Tx) error {
			for range min(100, batches-from) {
				n, err := tx.NewBatch(c.chat.Book, at)
				if err != nil {
					return err
				}
				entry := func(q ferment.Quantity, day float64) ferment.Entry {
					t := at.Add(time.Duration(day * 24 * float64(time.Hour)))
					return ferment.Entry{Batch: n, Quantity: q, At: t, TypedAt: t, Author: c.who.ID, AuthorName: "nora"}
				}
				begun, pitch, gone := entry(ferment.QNewBatch, 0), entry(ferment.QEvent, 1), entry(ferment.QEvent, 200)
				begun.Text, pitch.Deed, gone.Deed = fmt.Sprintf("wine %d", n), ferment.DeedPitched, ferment.DeedEmpty
				es := []ferment.Entry{begun, pitch}
				for i := range readings - 3 {
					g := entry(ferment.QSG, 1+float64(i))
					g.Value, g.Has, g.Unit, g.Typed = max(0.995, 1.090-float64(i)*0.002), true, "sg", "1.050"
					es = append(es, g)
				}
				if _, err := tx.AddEntries(c.chat.Book, append(es, gone)); err != nil {
					return err
				}
			}
			return nil
		})
	}
}

// gauge counts what is written and looks now and then how much memory is in use.
type gauge struct {
	bytes, looks int
	most         uint64
}

func (g *gauge) Write(p []byte) (int, error) {
	if g.bytes>>17 != (g.bytes+len(p))>>17 { // every 128 kB
		var m runtime.MemStats
		runtime.GC()
		runtime.ReadMemStats(&m)
		g.most = max(g.most, m.HeapAlloc)
		g.looks++
	}
	g.bytes += len(p)
	return len(p), nil
}

func (c *cellar) gauge() *gauge {
	c.t.Helper()
	g := &gauge{}
	err := c.db.View(context.Background(), func(tx *store.Tx) error {
		return c.bot.ExportJSON(context.Background(), tx, c.chat.Book, c.now, g)
	})
	if err != nil {
		c.t.Fatal(err)
	}
	return g
}

var big = flag.Bool("big", false, "export a book of a million entries")

// Ten times the book takes no more memory than the book: an export holds one batch.
func TestExportIsFlat(t *testing.T) {
	sizes := []int{100, 1000} // batches
	readings := 30
	if *big {
		sizes, readings = []int{1000, 10_000}, 100
	}
	var most [2]uint64
	for i, n := range sizes {
		c := newCellar(t)
		c.fill(n, readings)
		g := c.gauge()
		if g.looks < 2 {
			t.Fatalf("looked %d times", g.looks)
		}
		most[i] = g.most
		t.Logf("%d entries, %d MB written, %.1f MB in use at most", n*readings, g.bytes>>20, float64(g.most)/(1<<20))
		c.db.Close()
	}
	if small, large := most[0], most[1]; large > small+small/2 {
		t.Errorf("%d bytes in use for the small book, %d for one ten times as large", small, large)
	}
}

func BenchmarkExport(b *testing.B) {
	c := newCellar(b)
	c.fill(100, 100)
	b.ReportAllocs()
	b.ResetTimer()
	for range b.N {
		b.SetBytes(int64(c.gauge().bytes))
	}
	b.ReportMetric(float64(b.N)*100*100/b.Elapsed().Seconds(), "entries/s")
}
