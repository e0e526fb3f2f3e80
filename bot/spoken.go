package bot

import "strings"

// name is what the bot is called: its @name on the platform, without @.
func (b *Bot) name() string {
	if b.Access != nil {
		if n := b.Access.BotName(); n != "" {
			return n
		}
	}
	return "mustbook"
}

// spoken is a text without the bot's own @name: "/now@cellar_bot" and "@cellar_bot
// status" say no more than the words beside it.
func spoken(text, name string) string {
	const ends = ",:;.!?"
	out := text
	for _, w := range strings.Fields(text) {
		bare := strings.TrimRight(w, ends)
		command, at, found := strings.Cut(bare, "@")
		switch {
		case !found || !strings.EqualFold(at, name):
		case command == "":
			out = strings.Replace(out, w, "", 1)
		case strings.HasPrefix(command, "/"):
			out = strings.Replace(out, w, command, 1)
		}
	}
	if out == text {
		return text
	}
	return strings.TrimSpace(out)
}
