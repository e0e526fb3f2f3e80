package bot

import (
	"strings"
	"time"

	"mustbook/bot/parse"
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
