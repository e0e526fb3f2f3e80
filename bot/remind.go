package bot

import (
	"context"
	"fmt"
	"time"

	"mustbook/ferment"
	"mustbook/schedule"
	"mustbook/store"
)

// Remind makes what is due in a book at now: each reminder once, in the
// transaction that writes its outbox row. It also writes when to look next.
func (b *Bot) Remind(ctx context.Context, tx *store.Tx, id int64, now time.Time) error {
	bk, err := b.load(tx, id, now, 0)
	if err != nil {
		return err
	}
	r := b.newReminding(tx, bk, now)
	if err := r.make(); err != nil {
		return err
	}
	return r.lookNext(time.Hour) // what is due and was not made waits for something else
}

// reminding is one look at a book's reminders.
type reminding struct {
	b     *Bot
	tx    *store.Tx
	bk    *book
	now   time.Time
	house schedule.House

	planned map[int][]schedule.Item // plans that were made, until more is said of it; 0: the house's
	made    map[schedule.Key]int64  // the rows of what this look made
	members []store.Member          // those present; read with the chats
	chats   map[int64]store.Chat    // by id, those in which somebody present can read
	order   []store.Chat            // the same, the oldest first
}

// newReminding looks at a book's reminders as of now.
func (b *Bot) newReminding(tx *store.Tx, bk *book, now time.Time) *reminding {
	return &reminding{b: b, tx: tx, bk: bk, now: now, house: bk.scheduleHouse(now), made: map[schedule.Key]int64{},
		planned: map[int][]schedule.Item{}}
}

func (r *reminding) make() error {
	var due, soon []schedule.Item
	for _, s := range r.bk.open() {
		items, err := r.plan(s)
		if err != nil {
			return err
		}
		r.planned[s.N] = items
		due = append(due, schedule.DueItems(items, r.now)...)
		soon = append(soon, schedule.Soon(items, r.now)...)
	}
	items, err := r.planHouse()
	if err != nil {
		return err
	}
	due = append(due, schedule.DueItems(items, r.now)...)
	alone, together := schedule.Split(due)
	if err := r.byTheHour(alone, soon); err != nil {
		return err
	}
	return r.bundle(together)
}

// planHouse is what is or will be due for the house, its instruments and its tubs.
func (r *reminding) planHouse() ([]schedule.Item, error) {
	if items, ok := r.planned[0]; ok {
		return items, nil
	}
	if r.house.Instruments == nil {
		r.house.Instruments = r.bk.instruments(r.now)
	}
	said, err := r.said(schedule.BookKind, 0)
	if err != nil {
		return nil, err
	}
	for _, in := range r.house.Instruments {
		more, err := r.said(schedule.InstrumentKind, in.N)
		if err != nil {
			return nil, err
		}
		said = append(said, more...)
	}
	for _, t := range r.house.Tubs {
		more, err := r.said(schedule.TubKind, t.N)
		if err != nil {
			return nil, err
		}
		said = append(said, more...)
	}
	items := schedule.PlanHouse(r.bk.open(), r.house, said, r.now)
	r.planned[0] = items
	return items, nil
}

// said reads what was made of a subject before.
func (r *reminding) said(kind string, n int64) ([]schedule.Said, error) {
	rows, err := r.tx.Said(r.bk.id, kind, n)
	if err != nil {
		return nil, fmt.Errorf("said: %w", err)
	}
	out := make([]schedule.Said, len(rows))
	for i, x := range rows {
		out[i] = schedule.Said{Key: schedule.Key{Rule: x.Rule, Subject: schedule.Subject{Kind: x.Kind, N: x.N}, Anchor: x.Anchor, Occurrence: x.Occurrence},
			MadeAt: x.MadeAt, Due: x.Due, AnsweredAt: x.AnsweredAt, Answer: x.Answer, SnoozedTo: x.SnoozedTo, Muted: x.Muted}
	}
	return out, nil
}

// note keeps that a reminder was made; false where it was made before.
func (r *reminding) note(it schedule.Item) (int64, bool, error) {
	delete(r.planned, batchOf(it))
	id, dup, err := r.tx.AddSaid(store.SaidRow{Book: r.bk.id, Rule: it.Rule, Kind: it.Subject.Kind, N: it.Subject.N, Anchor: it.Anchor,
		Occurrence: it.Occurrence, MadeAt: r.now, Due: it.Due})
	return id, !dup, err
}

func batchOf(it schedule.Item) int {
	if it.Subject.Kind == schedule.BatchKind {
		return int(it.Subject.N)
	}
	return 0
}

// expects is the forecast as the schedule needs it: from the cache, never computed
// by a tick.
func (b *Bot) expects(tx *store.Tx, bk *book, s *ferment.State) *schedule.Forecast {
	o := b.outlook(tx, bk, s, true)
	if o.Verdict == "" {
		return nil
	}
	f := &schedule.Forecast{PProblem: o.PNow, PBefore: o.PBefore}
	if o.Rack != nil {
		f.RackMedian = o.Rack.Median
	}
	return f
}

// afterwards says what a message set off at once and writes when to look next:
// every entry may move a reminder.
func (b *Bot) afterwards(tx *store.Tx, in Incoming) error {
	bk, err := b.load(tx, in.Chat.Book, in.Now, 0)
	if err != nil {
		return err
	}
	r := b.newReminding(tx, bk, in.Now)
	var set []schedule.Item
	for _, s := range bk.open() {
		_, items, err := r.nextOf(s, time.Minute)
		if err != nil {
			return err
		}
		set = append(set, schedule.AtOnceItems(items, in.Now)...)
	}
	items, err := r.planHouse()
	if err != nil {
		return err
	}
	if err := r.atOnce(append(set, schedule.AtOnceItems(items, in.Now)...), in.Chat.ID); err != nil {
		return err
	}
	return r.lookNext(time.Minute)
}

// plan is what is or will be due for a batch.
func (r *reminding) plan(s *ferment.State) ([]schedule.Item, error) {
	return r.planWith(s, r.b.expects(r.tx, r.bk, s))
}

func (r *reminding) planWith(s *ferment.State, f *schedule.Forecast) ([]schedule.Item, error) {
	if items, ok := r.planned[s.N]; ok {
		return items, nil
	}
	said, err := r.said(schedule.BatchKind, int64(s.N))
	if err != nil {
		return nil, err
	}
	return schedule.Plan(s, f, r.house, said, r.now), nil
}

// atOnce makes what a message set off: part of the answer to it, in its chat.
func (r *reminding) atOnce(items []schedule.Item, chat int64) error {
	var all []told
	for _, it := range items {
		all = append(all, told{Item: it, chat: chat})
	}
	for _, u := range r.units(all) {
		if err := r.makeTogether(u, 0); err != nil {
			return err
		}
	}
	return nil
}

// anyInJar reports a batch that is not yet in bottles: a week in which nothing can
// happen needs no message.
func (bk *book) anyInJar() bool {
	for _, s := range bk.open() {
		if s.Stage != ferment.Bottled {
			return true
		}
	}
	return false
}
