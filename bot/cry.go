package bot

import (
	"strings"
	"time"

	"mustbook/bot/parse"
	"mustbook/bot/say"
)

// CryFor returns the topic of a cry for help about gas, glass, fire or poison in a
// text, empty where there is none. It is asked for strangers too.
func CryFor(text string) string {
	in := parse.Message(text, parse.Context{Group: true, Units: "metric", Now: time.Unix(0, 0).UTC()})
	if strings.HasPrefix(in.Topic, "safety_") {
		return in.Topic
	}
	return ""
}

// readLate is how late a cry for help may be read without saying so.
const readLate = 5 * time.Minute

// firstAid answers a cry for help with its text alone: always a new message, which
// rings, also where an older one was edited into the cry.
func (t *turn) firstAid(text string) error {
	if t.in.Now.Sub(t.in.At) > readLate {
		text = say.SeenLate(text)
	}
	t.edits = 0
	return t.reply(reply{Lines: []string{text}, Whole: true, Aid: true})
}
