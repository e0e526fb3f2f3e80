package bot

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"sort"
	"strings"
	"time"

	"mustbook/bot/say"
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
	r := &reminding{b: b, tx: tx, bk: bk, now: now, house: bk.scheduleHouse(now)}
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
}

func (r *reminding) make() error {
	var due []schedule.Item
	for _, s := range r.bk.open() {
		items, err := r.plan(s)
		if err != nil {
			return err
		}
		due = append(due, schedule.DueItems(items, r.now)...)
	}
	said, err := r.said(schedule.BookKind, 0)
	if err != nil {
		return err
	}
	due = append(due, schedule.DueHouse(r.bk.open(), r.house, said, r.now)...)
	alone, together := schedule.Split(due)
	for _, it := range alone {
		if err := r.alone(it); err != nil {
			return err
		}
	}
	return r.bundle(together)
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
	id, dup, err := r.tx.AddSaid(store.SaidRow{Book: r.bk.id, Rule: it.Rule, Kind: it.Subject.Kind, N: it.Subject.N, Anchor: it.Anchor,
		Occurrence: it.Occurrence, MadeAt: r.now, Due: it.Due})
	return id, !dup, err
}

func (r *reminding) alone(it schedule.Item) error {
	id, fresh, err := r.note(it)
	if err != nil || !fresh || it.Rule == schedule.WeeklyID && !r.bk.anyInJar() {
		return err
	}
	chat, err := r.chatFor(it)
	if err != nil {
		return err
	}
	return r.send(it, id, chat, 1)
}

// send writes one reminder with its buttons to the outbox.
func (r *reminding) send(it schedule.Item, id, chat int64, priority int) error {
	lines, labels := r.text(it)
	out := store.Out{Book: r.bk.id, Chat: chat, Kind: "reply", Source: fmt.Sprintf("r%d", id), Text: say.Text(lines), Batch: batchOf(it), Priority: priority, Created: r.now}
	for _, l := range labels {
		raw, err := json.Marshal(action{Do: doSaid, Batch: batchOf(it), Key: it.Rule, Text: l, Value: float64(id)})
		if err != nil {
			return err
		}
		out.Buttons = append(out.Buttons, store.Button{Label: l, Action: raw, Expires: r.now.Add(buttonLives)})
	}
	_, _, err := r.tx.Enqueue(out)
	return err
}

// text renders an item whole.
func (r *reminding) text(it schedule.Item) (lines, labels []string) {
	if it.Rule == schedule.WeeklyID {
		return append([]string{"This week in the cellar:"}, r.bk.style.List(r.bk.open())...), nil
	}
	r.nameBatch(&it)
	lines, labels = r.bk.style.Reminder(it.Rule, it.Args)
	if s := r.bk.batch(batchOf(it)); it.Rule == notSafeRule && s != nil && !it.Late {
		lines = r.bk.style.NotSafe(s, s.Gate(r.now)) // the danger is named and computed
	}
	return lines, labels
}

// notSafeRule speaks of a batch that was bottled though the gate says no.
const notSafeRule = "R35"

// nameBatch gives a text the name of its batch.
func (r *reminding) nameBatch(it *schedule.Item) {
	if it.Args == nil {
		it.Args = map[string]string{}
	}
	if s := r.bk.batch(batchOf(*it)); s != nil {
		it.Args["batch"] = say.Title(s.Name)
	}
}

// bundle puts the day's normal ones of a chat into one message.
func (r *reminding) bundle(items []schedule.Item) error {
	type day struct {
		items []schedule.Item
		first int64
	}
	days := map[int64]*day{}
	var chats []int64
	for _, it := range items {
		id, fresh, err := r.note(it)
		if err != nil {
			return err
		}
		if !fresh || it.Rule == schedule.WeeklyID && !r.bk.anyInJar() {
			continue
		}
		chat, err := r.chatFor(it)
		if err != nil {
			return err
		}
		if days[chat] == nil {
			days[chat] = &day{first: id}
			chats = append(chats, chat)
		}
		days[chat].items = append(days[chat].items, it)
	}
	for _, chat := range chats {
		if err := r.together(days[chat].items, days[chat].first, chat); err != nil {
			return err
		}
	}
	return nil
}

// together sends what falls due in a chat on one day: a lone one whole with its
// buttons, several as a line each, the most pressing first. The round-up of the
// week stands in place of them all.
func (r *reminding) together(items []schedule.Item, id, chat int64) error {
	for _, it := range items {
		if it.Rule == schedule.WeeklyID || len(items) == 1 {
			return r.send(it, id, chat, 2)
		}
	}
	shown, more := schedule.Bundle(items)
	var lines []string
	for _, it := range shown {
		r.nameBatch(&it)
		lines = append(lines, r.bk.style.ReminderShort(it.Rule, it.Args))
	}
	if more > 0 {
		lines = append(lines, fmt.Sprintf("and %d more: what next", more))
	}
	_, _, err := r.tx.Enqueue(store.Out{Book: r.bk.id, Chat: chat, Kind: "reply", Source: fmt.Sprintf("r%d", id), Text: say.Text(lines), Batch: batchOf(shown[0]), Priority: 2, Created: r.now})
	return err
}

func batchOf(it schedule.Item) int {
	if it.Subject.Kind == schedule.BatchKind {
		return int(it.Subject.N)
	}
	return 0
}

// chatFor is where a reminder goes: the chat in which its batch was begun, else the
// book's first group, else the keeper's private chat.
func (r *reminding) chatFor(it schedule.Item) (int64, error) {
	es := r.bk.entries[batchOf(it)]
	for _, e := range es {
		if e.Message == 0 {
			continue
		}
		if m, err := r.tx.Message(r.bk.id, e.Message); err == nil && m.Kind != "import" && m.Kind != "press" {
			return m.Chat, nil
		}
	}
	chats, err := r.tx.Chats(r.bk.id)
	if err != nil {
		return 0, err
	}
	for _, group := range []bool{true, false} {
		for _, c := range chats {
			if c.Group() == group && !c.Silent && c.Admitted {
				return c.ID, nil
			}
		}
	}
	return 0, errors.New("the book has no chat")
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

// scheduleHouse is what holds for every batch, as the schedule takes it.
func (bk *book) scheduleHouse(now time.Time) schedule.House {
	h := schedule.House{Zone: bk.zone, Intervals: bk.house.Interval, Muted: bk.house.Muted, Minors: bk.house.Flags["minors"],
		NoRoundUp: bk.house.Flags["no round-up"], UrgentBreaksQuiet: bk.house.Flags["urgent at night"], PlaceL: map[string]float64{}, YearLimitL: bk.house.YearL}
	from, to, _ := strings.Cut(bk.house.Quiet, "-")
	if a, ok := ferment.Clock(from); ok {
		if z, ok := ferment.Clock(to); ok {
			h.QuietFrom, h.QuietTo = a, z
		}
	}
	if bk.house.Quiet == "off" {
		h.QuietFrom, h.QuietTo = 1, 1
	}
	h.Bundle, _ = ferment.Clock(bk.house.Bundle)
	for _, s := range bk.open() {
		if working(s) {
			h.PlaceL[s.Place] += s.VolumeL
		}
		if s.Began.In(bk.zone).Year() == now.In(bk.zone).Year() {
			h.YearMadeL += s.VolumeL
		}
	}
	own := append([]ferment.Entry(nil), bk.house.Remind...)
	for _, es := range bk.entries {
		for _, e := range es {
			if e.Quantity == ferment.QSetting && e.Key == ferment.SetRemind {
				own = append(own, e)
			}
		}
	}
	sort.Slice(own, func(i, j int) bool { return own[i].Root < own[j].Root })
	for _, e := range own {
		h.Own = append(h.Own, schedule.Own{Root: e.Root, Batch: e.Batch, Member: e.Author, What: e.Text, At: e.At, DayOnly: e.DayOnly, Made: e.TypedAt})
	}
	return h
}

// afterwards says what a message set off at once and writes when to look next:
// every entry may move a reminder.
func (b *Bot) afterwards(tx *store.Tx, in Incoming) error {
	bk, err := b.load(tx, in.Chat.Book, in.Now, 0)
	if err != nil {
		return err
	}
	r := &reminding{b: b, tx: tx, bk: bk, now: in.Now, house: bk.scheduleHouse(in.Now)}
	for _, s := range bk.open() {
		_, items, err := r.nextOf(s, time.Minute)
		if err != nil {
			return err
		}
		for _, it := range schedule.AtOnceItems(items, in.Now) {
			if err := r.atOnce(it, in.Chat.ID); err != nil {
				return err
			}
		}
	}
	return r.lookNext(time.Minute)
}

// plan is what is or will be due for a batch.
func (r *reminding) plan(s *ferment.State) ([]schedule.Item, error) {
	return r.planWith(s, r.b.expects(r.tx, r.bk, s))
}

func (r *reminding) planWith(s *ferment.State, f *schedule.Forecast) ([]schedule.Item, error) {
	said, err := r.said(schedule.BatchKind, int64(s.N))
	if err != nil {
		return nil, err
	}
	return schedule.Plan(s, f, r.house, said, r.now), nil
}

// atOnce is part of the answer to the message that set it off, in its chat.
func (r *reminding) atOnce(it schedule.Item, chat int64) error {
	id, fresh, err := r.note(it)
	if err != nil || !fresh {
		return err
	}
	return r.send(it, id, chat, 0)
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
