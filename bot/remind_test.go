package bot

import (
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"mustbook/schedule"
	"mustbook/store"
)

// home is a household with a group and the private chats of two members.
type home struct {
	t      *testing.T
	db     *store.DB
	bot    *Bot
	book   int64
	nora   store.Member
	jo     store.Member
	cellar store.Chat
	chats  map[string]store.Chat // private ones, by name
	n      int64
	now    time.Time
	rush   bool
}

func newHome(t *testing.T, dir string) *home {
	t.Helper()
	h := &home{t: t, now: time.Date(2026, 3, 1, 12, 0, 0, 0, time.UTC), chats: map[string]store.Chat{}}
	db, err := store.Open(context.Background(), filepath.Join(dir, "book.db"), store.Options{Now: func() time.Time { return h.now }, Rand: randomBytes(3)})
	if err != nil {
		t.Fatal(err)
	}
	h.db = db
	h.restart()
	h.update(func(tx *store.Tx) error {
		b, err := tx.CreateBook("home", h.now)
		if err != nil {
			return err
		}
		h.book = b.ID
		if h.nora, err = tx.AddMember(store.Member{Book: b.ID, Name: "nora", Keeper: true, Joined: h.now}); err != nil {
			return err
		}
		if h.jo, err = tx.AddMember(store.Member{Book: b.ID, Name: "jo", Joined: h.now}); err != nil {
			return err
		}
		if h.cellar, err = tx.PutChat(store.Chat{Book: b.ID, Platform: "script", PlatformID: -1, Kind: "group", Title: "Cellar", Admitted: true}); err != nil {
			return err
		}
		for i, m := range []store.Member{h.nora, h.jo} {
			c, err := tx.PutChat(store.Chat{Book: b.ID, Platform: "script", PlatformID: int64(i + 1), Kind: "private", Member: m.ID, Admitted: true})
			if err != nil {
				return err
			}
			h.chats[m.Name] = c
		}
		return nil
	})
	return h
}

// restart forgets all that is only remembered.
func (h *home) restart() {
	h.bot = &Bot{Zone: time.LoadLocation, Default: time.UTC, Rand: randomBytes(4)}
}

func (h *home) update(f func(tx *store.Tx) error) {
	h.t.Helper()
	if err := h.db.Update(context.Background(), f); err != nil {
		h.t.Fatal(err)
	}
}

// says lets somebody say something in a chat.
func (h *home) says(m store.Member, c store.Chat, text string) {
	h.t.Helper()
	h.n++
	h.update(func(tx *store.Tx) error {
		return h.bot.Handle(context.Background(), tx, Incoming{Chat: c, Member: m, OriginChat: c.ID, MessageID: h.n, At: h.now, Now: h.now, Text: text, Mention: true, Quick: true, Rush: h.rush})
	})
}

// next is the instant that the index holds for the book; zero: never.
func (h *home) next() (next time.Time) {
	h.t.Helper()
	h.update(func(tx *store.Tx) error {
		due, err := tx.DueSubjects(h.now.AddDate(100, 0, 0), 10)
		for _, s := range due {
			next = s.NextDue
		}
		return err
	})
	return next
}

// tick makes what the index says is due.
func (h *home) tick() {
	h.t.Helper()
	h.update(func(tx *store.Tx) error {
		due, err := tx.DueSubjects(h.now, 10)
		if err != nil || len(due) == 0 {
			return err
		}
		return h.bot.Remind(context.Background(), tx, h.book, h.now)
	})
}

// heardIn are the reminders that went to a chat.
func (h *home) heardIn(c store.Chat) (texts []string) {
	h.t.Helper()
	h.update(func(tx *store.Tx) error {
		outs, err := tx.RecentOut(c.ID, 1000)
		for _, o := range outs {
			if strings.HasPrefix(o.Source, "r") {
				texts = append(texts, o.Text)
			}
		}
		return err
	})
	return texts
}

func (h *home) silence(c store.Chat, silent bool) {
	c.Silent = silent
	h.update(func(tx *store.Tx) error {
		_, err := tx.PutChat(c)
		if err == nil && !silent {
			err = lookAgain(tx, h.book, h.now)
		}
		return err
	})
}

func (h *home) pitch(c store.Chat) {
	for _, text := range []string{"new damson kit 23 l", "damson sg 1.086 20c", "damson pitched", "hydrometer reads 1.000 in water"} {
		h.says(h.nora, c, text)
		h.now = h.now.Add(time.Minute)
	}
}

// While a great many messages wait nothing is said of reminders; the next tick says
// what stands then.
func TestRemindersOfARushComeWithTheTick(t *testing.T) {
	said := map[bool][]string{}
	for _, rush := range []bool{false, true} {
		h := newHome(t, t.TempDir())
		defer h.db.Close()
		h.pitch(h.chats["nora"])
		h.rush = rush
		h.says(h.nora, h.chats["nora"], "damson must 33c")
		if told := len(h.heardIn(h.chats["nora"])); told > 0 == rush {
			t.Errorf("rush %v: %d reminders at once", rush, told)
		}
		h.tick()
		said[rush] = h.heardIn(h.chats["nora"])
	}
	if !slices.Equal(said[true], said[false]) || len(said[true]) != 1 {
		t.Errorf("after the tick %q, without a rush %q", said[true], said[false])
	}
}

// A chat that was left or blocks the bot costs no tick; what waited for it is said
// once when it speaks again.
func TestRemindersOfASilentChatWait(t *testing.T) {
	h := newHome(t, t.TempDir())
	defer h.db.Close()
	h.pitch(h.cellar)
	for _, c := range []store.Chat{h.cellar, h.chats["nora"], h.chats["jo"]} {
		h.silence(c, true)
	}
	h.now = h.now.Add(24 * time.Hour)
	h.tick()
	if got := h.heardIn(h.cellar); len(got) > 0 {
		t.Errorf("a silent chat is told %q", got)
	}
	if next := h.next(); !next.IsZero() {
		t.Errorf("a silent chat is looked at again at %v", next)
	}
	h.now = h.now.Add(3 * time.Hour)
	h.silence(h.cellar, false)
	h.tick()
	got := h.heardIn(h.cellar)
	if len(got) != 1 || !strings.Contains(got[0], "pitched 27 h ago") && !strings.Contains(got[0], "is it working yet?") || !strings.Contains(got[0], "was due") {
		t.Errorf("on its return it is told %q", got)
	}
	h.tick()
	if again := h.heardIn(h.cellar); len(again) != len(got) {
		t.Errorf("and again %q", again)
	}
}

// Who minds a batch is reminded in private, the urgent goes to the batch's chat, and
// a minder who cannot be reached loses nothing for the others.
func TestMinderIsReminded(t *testing.T) {
	h := newHome(t, t.TempDir())
	defer h.db.Close()
	h.pitch(h.cellar)
	h.says(h.nora, h.cellar, "jo minds damson")
	h.now = h.now.Add(24 * time.Hour)
	h.tick()
	if got := h.heardIn(h.chats["jo"]); len(got) != 1 || !strings.Contains(got[0], "Foam, fizz, cap or smell yet?") {
		t.Fatalf("jo is told %q", got)
	}
	if got := h.heardIn(h.cellar); len(got) != 0 {
		t.Errorf("and the chat too: %q", got)
	}
	h.silence(h.chats["jo"], true)
	h.now = h.now.Add(24 * time.Hour)
	h.tick()
	if got := h.heardIn(h.cellar); len(got) != 1 || !strings.Contains(got[0], "48 h since the yeast") {
		t.Errorf("the chat is told %q", got)
	}
	h.silence(h.chats["jo"], false)
	h.update(func(tx *store.Tx) error {
		bk, err := h.bot.load(tx, h.book, h.now, 0)
		if err != nil {
			return err
		}
		r := h.bot.newReminding(tx, bk, h.now)
		for _, c := range []struct {
			w    schedule.Weight
			want int64
		}{{schedule.Normal, h.chats["jo"].ID}, {schedule.High, h.chats["jo"].ID}, {schedule.Urgent, h.cellar.ID}} {
			it := schedule.Item{Weight: c.w}
			it.Subject = schedule.Subject{Kind: schedule.BatchKind, N: 1}
			if chat, ok, err := r.chatFor(it); err != nil || !ok || chat != c.want {
				t.Errorf("%s goes to chat %d (%v, %v), want %d", c.w, chat, ok, err, c.want)
			}
		}
		return nil
	})
}

// Where one chat is left that somebody present reads, everything goes there, whoever
// typed what elsewhere; while it is silent, nothing goes anywhere.
func TestALoneChatHearsAll(t *testing.T) {
	h := newHome(t, t.TempDir())
	defer h.db.Close()
	h.pitch(h.chats["nora"])
	h.says(h.nora, h.chats["nora"], "jo minds damson")
	h.update(func(tx *store.Tx) error {
		for _, m := range []store.Member{h.nora, h.jo} {
			m.Left = h.now
			if err := tx.SetMember(m); err != nil {
				return err
			}
		}
		return nil
	})
	for _, silent := range []bool{false, true} {
		h.silence(h.cellar, silent)
		h.update(func(tx *store.Tx) error {
			bk, err := h.bot.load(tx, h.book, h.now, 0)
			if err != nil {
				return err
			}
			r := h.bot.newReminding(tx, bk, h.now)
			for _, it := range []schedule.Item{{Weight: schedule.Normal}, {Weight: schedule.Urgent}, {Key: schedule.Key{Rule: ownRule, Anchor: 1}}, {Key: schedule.Key{Rule: welcomeRule, Anchor: 1}}} {
				for _, it.Subject = range []schedule.Subject{{Kind: schedule.BatchKind, N: 1}, {Kind: schedule.BookKind}} {
					if chat, ok, err := r.chatFor(it); err != nil || ok == silent || ok && chat != h.cellar.ID {
						t.Errorf("silent %v: %v %s of %s goes to chat %d (%v, %v)", silent, it.Weight, it.Rule, it.Subject.Kind, chat, ok, err)
					}
				}
			}
			return nil
		})
	}
}

// sayings are what a household types in a walk; ticks, restarts and clock changes
// come between.
var sayings = []string{"damson sg 1.080 20c", "damson sg 1.060 21c", "damson sg 1.030 21c", "damson sg 1.008 20c", "damson sg 0.996 20c",
	"damson working", "damson stirred", "damson strained", "damson racked 20 l", "damson must 31c", "undo", "snooze 3 h", "mute readings",
	"unmute", "mute damson", "away until friday, jo minds it", "away until friday, nobody", "we are back", "heat wave", "stir every 8 h",
	"remind me tomorrow to rack", "jo minds damson", "nobody minds damson", "quiet hours 20-9", "zone Pacific/Auckland", "zone America/New_York",
	"zone Asia/Kolkata", "zone Europe/Dublin", "zone America/Sao_Paulo", "bundle at 12:00", "sugar in 3 steps of 500 g"}

// walks is how many households live at random; each has its own seed.
const walks = 16

// TestWalk: whatever is typed, however the program is restarted and the clock set,
// the index never lets a reminder wait unseen, none is made twice, and a second tick
// makes nothing.
func TestWalk(t *testing.T) {
	for seed := range walks {
		t.Run(fmt.Sprint(seed), func(t *testing.T) { wander(t, rand.New(rand.NewPCG(uint64(seed), 7))) })
	}
}

func wander(t *testing.T, r *rand.Rand) {
	h := newHome(t, t.TempDir())
	defer h.db.Close()
	h.pitch(h.cellar)
	latest := h.now
	for range 24 {
		switch r.IntN(10) {
		case 0:
			h.restart()
		case 1:
			h.now = h.now.Add(-time.Duration(1+r.IntN(120)) * time.Minute)
		case 2, 3, 4:
			h.says(h.nora, h.cellar, sayings[r.IntN(len(sayings))])
		default:
			gaps := []int{1, 30, 300, 1440, 4000, 20000}
			h.now = h.now.Add(time.Duration(gaps[r.IntN(len(gaps))]) * time.Minute)
			h.tick()
			made := h.made()
			h.tick()
			if again := h.made(); len(again) != len(made) {
				t.Fatalf("a second tick makes %v", again[len(made):])
			}
			if r.IntN(3) == 0 {
				h.says(h.nora, h.cellar, "snooze 3 h")
			}
		}
		if h.now.Before(latest) {
			continue // the clock was set back: what was told is told, and waits for it
		}
		latest = h.now
		h.sound(t)
	}
}

// sound holds the index against a plan made by a program that remembers nothing.
func (h *home) sound(t *testing.T) {
	t.Helper()
	next := h.next()
	fresh := &Bot{Zone: time.LoadLocation, Default: time.UTC, Rand: randomBytes(5)}
	h.update(func(tx *store.Tx) error {
		items, err := fresh.Planned(tx, h.book, h.now)
		for _, it := range items {
			if it.Open {
				continue
			}
			// What fell due just now, by a message, waits for the tick of the next minute.
			latest := it.Due
			if soon := h.now.Add(time.Hour); latest.Before(soon) {
				latest = soon
			}
			if next.IsZero() || next.After(latest) {
				t.Fatalf("at %v %s is due %v, and the index looks at %v", h.now, it.Rule, it.Due, next)
			}
		}
		return err
	})
	keys := h.made()
	for i, k := range keys {
		if slices.Contains(keys[:i], k) {
			t.Fatalf("%v is made twice", k)
		}
	}
}

// made are the keys of all that was made.
func (h *home) made() (keys []schedule.Key) {
	h.update(func(tx *store.Tx) error {
		for _, s := range []schedule.Subject{{Kind: schedule.BookKind}, {Kind: schedule.BatchKind, N: 1}} {
			rows, err := tx.Said(h.book, s.Kind, s.N)
			if err != nil {
				return err
			}
			for _, r := range rows {
				keys = append(keys, schedule.Key{Rule: r.Rule, Subject: s, Anchor: r.Anchor, Occurrence: r.Occurrence})
			}
		}
		return nil
	})
	return keys
}
