package telegram

import (
	"time"

	"golang.org/x/time/rate"
)

// pace keeps the platform's limits: about one message a second in a chat, twenty
// a minute in a group, thirty a second over all (core.telegram.org/bots/faq, "My
// bot is hitting limits"); we stay at 25.
type pace struct {
	on    bool
	all   *rate.Limiter
	chats map[int64]*limits
}

type limits struct {
	second *rate.Limiter
	minute *rate.Limiter // nil in private
}

// newPace has full limiters; off, it lets everything pass.
func newPace(on bool) *pace {
	return &pace{on: on, all: rate.NewLimiter(25, 5), chats: map[int64]*limits{}}
}

// maxChats bounds the memory: full limiters are forgotten when it is reached.
const maxChats = 2000

// of finds or makes a chat's limiters.
func (p *pace) of(chat int64, group bool, now time.Time) *limits {
	l := p.chats[chat]
	if l == nil {
		if len(p.chats) >= maxChats {
			p.forget(now)
		}
		l = &limits{second: rate.NewLimiter(1, 1)}
		if group {
			l.minute = rate.NewLimiter(rate.Every(3*time.Second), 20)
		}
		p.chats[chat] = l
	}
	return l
}

// forget drops the limiters that hold nobody back.
func (p *pace) forget(now time.Time) {
	for id, l := range p.chats {
		if l.second.TokensAt(now) >= 1 && (l.minute == nil || l.minute.TokensAt(now) >= 20) {
			delete(p.chats, id)
		}
	}
}

// take says whether a message may go to the chat now; if not, when to ask again.
func (p *pace) take(chat int64, group bool, now time.Time) (wait time.Duration) {
	if !p.on {
		return 0
	}
	l := p.of(chat, group, now)
	for _, lim := range []*rate.Limiter{p.all, l.second, l.minute} {
		if lim != nil {
			wait = max(wait, missing(lim, now))
		}
	}
	if wait > 0 {
		return wait
	}
	for _, lim := range []*rate.Limiter{p.all, l.second, l.minute} {
		if lim != nil {
			lim.AllowN(now, 1)
		}
	}
	return 0
}

// missing is how long until the limiter has a whole token.
func missing(l *rate.Limiter, now time.Time) time.Duration {
	lack := 1 - l.TokensAt(now)
	if lack <= 0 {
		return 0
	}
	return time.Duration(lack/float64(l.Limit())*float64(time.Second)) + time.Millisecond
}
