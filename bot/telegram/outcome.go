package telegram

import (
	"errors"
	"strings"
	"time"

	lib "github.com/go-telegram/bot"
)

// fate is what became of a send.
type fate int

const (
	fateSent     fate = iota
	fateNotSent       // certainly not: try again
	fateUnknown       // the platform may have done it
	fateLater         // told to wait
	fatePlain         // its HTML was not understood: once more as plain text
	fateDead          // refused for good
	fateShut          // the bot can't write to this chat any more
	fateMoved         // the group has a new id
	fateTokenBad      // nothing can be sent with this token
)

// outcome is a fate and what goes with it.
type outcome struct {
	fate  fate
	id    int64 // the platform's message id
	wait  time.Duration
	moved int64
	err   error
}

// judge says what follows from the error of a send. Only what the network can
// show as unsent counts as unsent.
func judge(err error, a *attempt) outcome {
	var many *lib.TooManyRequestsError
	var moved *lib.MigrateError
	switch {
	case err == nil:
		return outcome{fate: fateSent}
	case errors.As(err, &many):
		return outcome{fate: fateLater, wait: max(1, time.Duration(many.RetryAfter)) * time.Second, err: err}
	case errors.As(err, &moved):
		return outcome{fate: fateMoved, moved: int64(moved.MigrateToChatID), err: err}
	case errors.Is(err, lib.ErrorForbidden):
		return outcome{fate: fateShut, err: err}
	case errors.Is(err, lib.ErrorUnauthorized), errors.Is(err, lib.ErrorNotFound):
		return outcome{fate: fateTokenBad, wait: time.Minute, err: err}
	case errors.Is(err, lib.ErrorBadRequest):
		return refused(err)
	case errors.Is(err, errRow), a.status.Load() == 413:
		return outcome{fate: fateDead, err: err}
	case !a.wrote.Load():
		return outcome{fate: fateNotSent, err: err}
	}
	return outcome{fate: fateUnknown, err: err}
}

// refused sorts the 400s, which only their words tell apart.
func refused(err error) outcome {
	text := err.Error()
	for _, done := range []string{"message is not modified", "query is too old", "message to delete not found"} {
		if strings.Contains(text, done) {
			return outcome{fate: fateSent}
		}
	}
	if strings.Contains(text, "can't parse entities") {
		return outcome{fate: fatePlain, err: err}
	}
	return outcome{fate: fateDead, err: err}
}

// errRow is a row of the outbox that can't be sent as it stands.
var errRow = errors.New("outbox row")

// backoff grows from half a second to five minutes.
func backoff(tries int) time.Duration {
	return min(500*time.Millisecond<<min(tries, 10), 5*time.Minute)
}
