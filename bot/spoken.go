package bot

import (
	"strings"

	"mustbook/bot/parse"
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
	in.Text = parse.Spoken(in.Text, b.name())
	return b.Access.Command(tx, in)
}
