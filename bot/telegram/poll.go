package telegram

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"strings"
	"time"

	"mustbook/store"
)

// errNotStored is a batch that is still the platform's, for our disk did not take it.
var errNotStored = errors.New("not stored")

// kinds of updates that we ask for: the fewer, the fewer strange ones.
var kinds = []string{"message", "edited_message", "callback_query", "my_chat_member"}

// pollSeconds is the longest that the platform holds a poll.
const pollSeconds = 50

// fullPoll is how many updates the platform gives at once: behind so many there are
// mostly more.
const fullPoll = 100

// poller fetches updates. What a poll brought is on disk before the next poll,
// whose offset tells the platform to forget it.
func (b *tg) poller(ctx context.Context) {
	offset := int64(0)
	if err := b.cfg.DB.View(ctx, func(tx *store.Tx) error { offset = tx.Offset(); return nil }); err != nil {
		b.cfg.Log.Error("offset", "error", b.redact(err))
	}
	for wait := time.Duration(0); pause(ctx, wait); {
		got, err := b.poll(ctx, offset)
		if err == nil {
			var stored int64
			stored, err = b.keep(ctx, got, offset)
			if err == nil {
				offset, wait = stored, 0
				b.heard()
				continue
			}
			err = fmt.Errorf("%w: %w", errNotStored, err)
		}
		if ctx.Err() != nil {
			return
		}
		wait = b.pollFailed(ctx, err, wait)
	}
}

// poll is one getUpdates.
func (b *tg) poll(ctx context.Context, offset int64) ([]json.RawMessage, error) {
	ctx, cancel := context.WithTimeout(ctx, (pollSeconds+17)*time.Second)
	defer cancel()
	// The client waits longer than the platform holds a poll, or each quiet minute
	// would look like an outage.
	params := map[string]any{"timeout": pollSeconds, "allowed_updates": kinds}
	if offset != 0 {
		params["offset"] = offset
	}
	var got []json.RawMessage
	passed("before poll")
	err := b.call(ctx, "getUpdates", params, &got)
	passed("after delivery")
	return got, err
}

// keep has a batch put into the inbox, with the next offset, in one commit.
func (b *tg) keep(ctx context.Context, got []json.RawMessage, offset int64) (int64, error) {
	now := b.cfg.Now()
	b.mu.Lock()
	b.heardAt = now
	b.mu.Unlock()
	b.full.Store(len(got) >= fullPoll)
	if len(got) == 0 {
		return offset, b.noteQuiet(ctx, now)
	}
	rows := make([]store.InRow, 0, len(got))
	for _, raw := range got {
		row, id := b.inRow(raw, now)
		rows = append(rows, row)
		if id != 0 {
			offset = id + 1 // the last one's, not the greatest: ids start anew after a quiet week
		}
	}
	passed("before inbox commit")
	err := b.bring(ctx, &arrival{rows, offset, now, make(chan error, 1)})
	return offset, err
}

// inRow is an update as the inbox keeps it. One that can't be read is kept too:
// the worker says so and goes on.
func (b *tg) inRow(raw json.RawMessage, now time.Time) (store.InRow, int64) {
	u, err := readUpdate(raw)
	key, origin, id := u.key(raw)
	if err == nil {
		b.lately.put(key, u)
	}
	return store.InRow{UpdateID: u.ID, OriginChat: origin, MessageID: id, Raw: raw, Key: key, ReceivedAt: now}, u.ID
}

// noteQuiet writes the time of an empty poll, at most every ten minutes.
func (b *tg) noteQuiet(ctx context.Context, now time.Time) error {
	b.mu.Lock()
	fresh := now.Sub(b.polled) < 10*time.Minute
	b.mu.Unlock()
	if fresh {
		return nil
	}
	return b.cfg.DB.Update(ctx, func(tx *store.Tx) error { return b.notePoll(tx, now) })
}

// heard says that the network is back, if it was said to be gone.
func (b *tg) heard() {
	if len(b.told) > 0 {
		clear(b.told)
		b.cfg.Log.Info("the platform answers again")
	}
}

// pollFailed tells what is wrong, each kind once, and how long to wait.
func (b *tg) pollFailed(ctx context.Context, err error, last time.Duration) time.Duration {
	wait := min(max(2*last, 200*time.Millisecond), 15*time.Second)
	text := "no answer from the platform; I keep trying and lose nothing"
	if errors.Is(err, errNotStored) {
		text = "what came can't be stored; the platform keeps it, and I keep trying"
	}
	switch code(err) {
	case 401, 404:
		text, wait = "the platform does not know this token", time.Minute
	case 409:
		text, wait = b.conflict(ctx, err), 5*time.Second
	case 429:
		var a *apiError
		if errors.As(err, &a) && a.RetryAfter > 0 {
			wait = a.RetryAfter
		}
	}
	if !b.told[text] {
		b.told[text] = true
		b.cfg.Log.Warn(text, "error", b.redact(err))
	}
	return wait
}

// conflict is another poller on the same token, or a webhook that is still set,
// which is taken down without dropping what waits.
func (b *tg) conflict(ctx context.Context, err error) string {
	if !strings.Contains(err.Error(), "webhook is active") {
		return "another program polls with the same token: stop one of the two"
	}
	if err := b.call(ctx, "deleteWebhook", map[string]any{"drop_pending_updates": false}, nil); err != nil {
		return "a webhook is set and could not be removed"
	}
	return "a webhook was set; I removed it and poll"
}
