package telegram

import (
	"bytes"
	"image"
	"image/color"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"

	"mustbook/bot/telegram/loopback"
	"mustbook/ferment"
	"mustbook/store"
)

// served is the real program on a platform of its own.
type served struct {
	t    *testing.T
	s    *loopback.Server
	path string
	cmd  *exec.Cmd
	out  printed
	env  []string
	args []string // of serve
}

// printed is what the program has printed so far.
type printed struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (p *printed) Write(b []byte) (int, error) { p.mu.Lock(); defer p.mu.Unlock(); return p.b.Write(b) }
func (p *printed) String() string              { p.mu.Lock(); defer p.mu.Unlock(); return p.b.String() }
func (p *printed) Reset()                      { p.mu.Lock(); defer p.mu.Unlock(); p.b.Reset() }

// serving has everything but a running program; o is the platform.
func serving(t *testing.T, o loopback.Options, env ...string) *served {
	t.Helper()
	if testing.Short() {
		t.Skip("builds and runs the program")
	}
	w := &served{t: t, s: loopback.New(o), path: filepath.Join(t.TempDir(), "book.db")}
	t.Cleanup(w.s.Close)
	t.Cleanup(w.stop)
	w.env = append([]string{"MUSTBOOK_DB=" + w.path, "TELEGRAM_API_URL=" + w.s.URL(), "TELEGRAM_BOT_TOKEN=" + loopback.Token, "MUSTBOOK_TZ=Europe/Dublin"}, env...)
	return w
}

// newServed starts the program and makes nora its keeper by the preset code.
func newServed(t *testing.T, o loopback.Options) (*served, *loopback.User) {
	t.Helper()
	w := serving(t, o, "MUSTBOOK_KEEPER_CODE="+hostCode, "MUSTBOOK_LOG=debug")
	w.start()
	nora := w.s.Person("nora")
	nora.Start(hostCode)
	nora.Private().WaitBot(t, 1)
	return w, nora
}

func (w *served) start() {
	w.t.Helper()
	bin, err := stormProgram()
	if err != nil {
		w.t.Fatal(err)
	}
	w.cmd = exec.Command(bin, append([]string{"serve"}, w.args...)...)
	w.cmd.Env = append(os.Environ(), w.env...)
	w.cmd.Stdout, w.cmd.Stderr = &w.out, &w.out
	if err := w.cmd.Start(); err != nil {
		w.t.Fatal(err)
	}
}

// stop ends it as a service manager does; afterwards out and the book can be read.
func (w *served) stop() {
	if w.cmd == nil {
		return
	}
	w.cmd.Process.Signal(syscall.SIGTERM)
	if err := w.cmd.Wait(); err != nil {
		w.t.Errorf("SIGTERM: %v\n%s", err, w.out.String())
	}
	w.cmd = nil
}

// book stops the program and reads what it kept.
func (w *served) book(f func(*store.Tx) error) {
	w.t.Helper()
	w.stop()
	db, err := store.Open(w.t.Context(), w.path, store.Options{Rand: seeded(1)})
	if err != nil {
		w.t.Fatal(err)
	}
	defer db.Close()
	if err := db.View(w.t.Context(), f); err != nil {
		w.t.Fatal(err)
	}
}

// wall is a picture of nothing.
func wall(t *testing.T) []byte {
	t.Helper()
	g := image.NewGray(image.Rect(0, 0, 160, 120))
	for i := range g.Pix {
		g.Pix[i] = color.Gray{Y: uint8(100 + i%160/2)}.Y
	}
	var b bytes.Buffer
	if err := png.Encode(&b, g); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// TestPhotoOfTheSticker goes from the photo to the serial in the book, through the
// program itself.
func TestPhotoOfTheSticker(t *testing.T) {
	sticker, err := os.ReadFile("../../testdata/images/sticker.jpg")
	if err != nil {
		t.Fatal(err)
	}
	w, nora := newServed(t, loopback.Options{CanRead: true})
	c := nora.Private()
	next(t, nora, c, "new merlot kit 23 l")
	w.s.Fail("getFile", loopback.Fault{Cut: true}) // the cellar's reception
	m := next(t, nora, c, "", loopback.Said{Photo: sticker})
	if want := "Photo kept. Code on it:\n2004711000425\nThe serial of merlot's kit?"; m.Text != want || !slices.Equal(m.Labels(), []string{"It is the serial", "Leave it out"}) {
		t.Fatalf("%q %q", m.Text, m.Labels())
	}
	n := len(c.FromBot())
	nora.Press(c, m.ID, "It is the serial")
	if got := c.WaitBot(t, n+1)[n].Text; !strings.Contains(got, "2004711000425") {
		t.Errorf("pressed: %q", got)
	}
	nora.Press(c, m.ID, "It is the serial")
	if got := c.WaitBot(t, n+2)[n+1].Text; !strings.Contains(got, "already") {
		t.Errorf("pressed again: %q", got)
	}
	if got := next(t, nora, c, "", loopback.Said{Photo: wall(t)}).Text; got != "Photo kept; no code could be read.\nA stem? Type the number: eye level,\nbottom of the curve." {
		t.Errorf("a photo without a code: %q", got)
	}
	if got := next(t, nora, c, "", loopback.Said{Photo: []byte("no picture")}).Text; !strings.HasPrefix(got, "I could not open that picture") {
		t.Errorf("no picture: %q", got)
	}
	w.book(func(tx *store.Tx) error {
		es, err := tx.Entries(1, 1)
		if err != nil {
			return err
		}
		serials := 0
		for _, e := range es {
			if e.Quantity == ferment.QKitSerial && e.Text == "2004711000425" {
				serials++
			}
		}
		ps, err := tx.Photos(1, 1)
		if serials != 1 || len(ps) != 3 || ps[0].Barcode != "2004711000425" || len(ps[0].JPEG) == 0 || len(ps[1].JPEG) == 0 || ps[1].Barcode != "" {
			t.Errorf("%d serials, %d photos in the book", serials, len(ps))
		}
		return err
	})
}

// TestAlbum sends three pictures together: one answer is enough.
func TestAlbum(t *testing.T) {
	r, nora, _ := newHouse(t, loopback.Options{})
	c := nora.Private()
	next(t, nora, c, "new merlot kit 23 l")
	n := len(c.FromBot())
	for range 3 {
		nora.Say(c, "", loopback.Said{Photo: wall(t), Extra: map[string]any{"media_group_id": "777"}})
	}
	c.WaitBot(t, n+1)
	r.s.Wait(t, "all three to be fetched", func() bool { return len(r.s.CallsOf("getFile")) == 3 })
	r.restart()
	if m := next(t, nora, c, "list"); m.ID == 0 || len(c.FromBot()) != n+2 {
		t.Errorf("an album is answered with %q", texts(c.FromBot()[n:]))
	}
	r.stop()
	r.db.View(t.Context(), func(tx *store.Tx) error {
		if ps, err := tx.Photos(1, 1); err != nil || len(ps) != 3 {
			t.Errorf("%d photos of an album, %v", len(ps), err)
		}
		return nil
	})
}

// TestFamilyPhotos has a group in which pictures are mostly of other things.
func TestFamilyPhotos(t *testing.T) {
	sticker, err := os.ReadFile("../../testdata/images/sticker.jpg")
	if err != nil {
		t.Fatal(err)
	}
	r, nora, g := newHouse(t, loopback.Options{CanRead: true})
	next(t, nora, g, "new merlot kit 23 l")
	began := next(t, nora, g, "new quince 10 l")
	n := len(g.FromBot())
	nora.Say(g, "", loopback.Said{Photo: wall(t)})
	nora.Say(g, "look at grandma", loopback.Said{Photo: wall(t)})
	if got := next(t, nora, g, "", loopback.Said{Photo: sticker}).Text; !strings.Contains(got, "2004711000425") {
		t.Errorf("a sticker in the group: %q", got)
	}
	if got := g.FromBot(); len(got) != n+1 {
		t.Errorf("family photos were answered: %q", texts(got[n:]))
	}
	if got := next(t, nora, g, "", loopback.Said{Photo: wall(t), ReplyTo: began.ID}).Text; !strings.HasPrefix(got, "Photo kept") {
		t.Errorf("a photo in reply to the bot: %q", got)
	}
	if got := next(t, nora, g, "quince 1.080 20c", loopback.Said{Photo: wall(t)}).Text; !strings.HasPrefix(got, "quince, day 0: start 1.080") {
		t.Errorf("a photo with a reading below it: %q", got)
	}
	next(t, nora, g, "merlot 1.090 20c")
	r.stop()
	r.db.View(t.Context(), func(tx *store.Tx) error {
		for batch, want := range map[int]int{0: 0, 1: 0, 2: 3} { // quince: the sticker in focus, the reply, the reading
			ps, err := tx.Photos(1, batch)
			if err != nil || len(ps) != want {
				t.Errorf("batch %d has %d photos, want %d (%v)", batch, len(ps), want, err)
			}
		}
		return nil
	})
}
