package bot

import (
	"strings"

	"mustbook/store"
)

// name is what the bot is called: its @name on the platform, without @.
func (b *Bot) name() string {
	if b.Access != nil {
		if n := b.Access.BotName(); n != "" {
			return n
		}
	}
	return "mustbook"
}

// command answers the words about who may do what, which are nothing to the book. In
// a group they must be meant for the bot: "leave" is said to others too.
func (b *Bot) command(tx *store.Tx, in Incoming) (done bool, err error) {
	if b.Access == nil || in.Forwarded {
		return false, nil
	}
	if in.Chat.Group() && !in.Mention && !in.ReplyToBot && !strings.HasPrefix(in.Text, "/") {
		return false, nil
	}
	in.Text = spoken(in.Text, b.name())
	return b.Access.Command(tx, in)
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
