package loopback

import "strings"

// botIn says whether the bot is in the chat.
func (s *Server) botIn(c *Chat) bool {
	st := c.status[BotID]
	return st == "member" || st == "administrator"
}

// shown says whether the bot gets to see a message: all in private, as an admin
// or with privacy mode off; else commands meant for it and replies to it.
func (s *Server) shown(c *Chat, m *Message) bool {
	if c.Type == "private" {
		return true
	}
	if !s.botIn(c) {
		return false
	}
	if s.canRead || c.status[BotID] == "administrator" {
		return true
	}
	if to := c.find(m.ReplyTo); to != nil && to.From == BotID {
		return true
	}
	return meant(m.Text, c.lastBot)
}

// meant: "/cmd@this_bot", or a bare "/cmd" if this bot wrote last of all bots.
func meant(text string, lastBot bool) bool {
	word, _, _ := strings.Cut(text, " ")
	if !strings.HasPrefix(word, "/") || len(word) < 2 {
		return false
	}
	_, name, named := strings.Cut(word, "@")
	if named {
		return strings.EqualFold(name, BotName)
	}
	return lastBot
}
