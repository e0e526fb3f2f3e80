package parse

import (
	"strings"
	"time"
)

// hushWords begin what asks for quiet in plain words: "don't message me before 9 in
// the morning".
var hushWords = anyOf("don't message|dont message|do not message|don't text|dont text|don't ping|dont ping|do not ping|don't write|dont write|don't wake|dont wake|do not wake|" +
	"don't disturb|dont disturb|do not disturb|don't bother|dont bother|don't remind|dont remind|do not remind|don't send|dont send|no messages|no message|no reminders|no pings|no texts|" +
	"stay quiet|be quiet|keep quiet|keep it quiet|quiet please|please don't message|please don't ping|please don't wake|please don't remind|please no messages|please be quiet|" +
	"stop reminding|stop nagging|stop pinging|stop messaging|stop texting|stop bothering|stop waking|stop pestering|quit nagging|quit reminding|no more reminders|no more messages|no more pings|" +
	"never message|never ping|never wake|only message|only ping|only write|only remind")

// hush reads such a wish as quiet hours. A single time is their end ("before 9") or
// their begin ("after 10 at night"); the other one stays as it is and is left out of
// the arguments. "Only after 9" says what "not before 9" says.
func (r *reader) hush(f string) (Intent, bool) {
	h := clockTimes(f)
	only := strings.Contains(f, "only ")
	before, after := strings.Index(f, "before"), strings.Index(f, "after")
	args := map[string]any{}
	switch {
	case len(h) == 2 && before >= 0 && after > before, len(h) == 2 && only: // "before 8 and after 10 pm"
		args["from"], args["to"] = evening(h[1], f), h[0]
	case len(h) == 2:
		args["from"], args["to"] = evening(h[0], f), h[1]
	case len(h) == 1 && hasAny(f, "stop|quit|no more") && !hasAny(f, "before|until|till|after|from|past|by"): // "stop reminding us at 6": when it does remind is asked
		return Intent{Kind: Question, Topic: TopicReminders}, true
	case len(h) != 1 || !hasAny(f, "before|until|till|after|from|past|by"):
		return Intent{}, false
	case hasAny(f, "after|from|past") == only:
		args["to"] = h[0]
	default:
		args["from"] = evening(h[0], f)
	}
	return Intent{Kind: Question, Topic: TopicSetQuiet, Args: args}, true
}

// evening is an hour at which quiet begins: "after 10" is ten at night, unless it
// is said to be the morning's.
func evening(h, f string) string {
	t, err := time.Parse("15:04", h)
	if err == nil && t.Hour() >= 5 && t.Hour() < 12 && !hasAny(f, "am|morning") {
		return t.Add(12 * time.Hour).Format("15:04")
	}
	return h
}
