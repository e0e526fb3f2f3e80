package loopback

import (
	"encoding/json"
	"net/http"
	"strings"
)

// writable finds the chat of a call and says why the bot can't write there.
func (s *Server) writable(p params) (*Chat, *reply) {
	c := s.world.chats[p.int("chat_id")]
	if c == nil {
		return refused(bad("chat not found"))
	}
	if c.movedTo != 0 {
		r := bad("group chat was upgraded to a supergroup chat")
		r.params = map[string]any{"migrate_to_chat_id": c.movedTo}
		return refused(r)
	}
	if c.Type == "private" {
		u := s.world.users[c.ID]
		switch {
		case u.blocked:
			return refused(forbidden("bot was blocked by the user"))
		case !u.started:
			return refused(forbidden("bot can't initiate conversation with a user"))
		}
		return c, nil
	}
	switch {
	case c.status[BotID] == "kicked":
		return refused(forbidden("bot was kicked from the " + c.kindWord() + " chat"))
	case !s.botIn(c):
		return refused(forbidden("bot is not a member of the " + c.kindWord() + " chat"))
	}
	return c, nil
}

// refused is a chat that can't be written to.
func refused(r reply) (*Chat, *reply) { return nil, &r }

func (c *Chat) kindWord() string { return c.Type } // "group" or "supergroup"

// place fills reply and topic of a message to be sent.
func (s *Server) place(c *Chat, p params, m *Message) *reply {
	if t := int(p.int("message_thread_id")); t != 0 {
		if _, open := c.topics[t]; !open {
			r := bad("message thread not found")
			return &r
		}
		m.Thread = t
	}
	if !p.has("reply_parameters") {
		return nil
	}
	var to struct {
		MessageID int  `json:"message_id"`
		Without   bool `json:"allow_sending_without_reply"`
	}
	if json.Unmarshal([]byte(p.str("reply_parameters")), &to) != nil {
		r := bad("can't parse reply parameters JSON object") // recalled
		return &r
	}
	switch {
	case c.find(to.MessageID) != nil:
		m.ReplyTo = to.MessageID
	case !to.Without:
		r := bad("message to be replied not found")
		return &r
	}
	return nil
}

// post checks what all send methods share and adds the message.
func (s *Server) post(p params, m *Message) reply {
	c, r := s.writable(p)
	if r != nil {
		return *r
	}
	if m.Buttons, r = p.keyboard(); r != nil {
		return *r
	}
	if r = s.place(c, p, m); r != nil {
		return *r
	}
	m.From, c.lastBot = BotID, true
	s.add(c, m)
	return ok(s.messageJSON(c, m, false))
}

// sendMessage checks the text before the chat, as the platform does.
func (s *Server) sendMessage(p params) reply {
	text, r := p.text("text", 4096, "message text is empty", "message is too long")
	if r != nil {
		return *r
	}
	return s.post(p, &Message{Text: text, Markup: p.str("text")})
}

// upload sends a picture or a document: ≤ 10 MB and ≤ 50 MB.
func (s *Server) upload(p params, key string, limit int) reply {
	data, uploaded := p.files[key]
	if !uploaded {
		data = s.world.files[p.str(key)]
	}
	if len(data) == 0 {
		return bad("there is no " + key + " in the request")
	}
	if len(data) > limit {
		return refuse(413, "Request Entity Too Large")
	}
	text, r := p.text("caption", 1024, "", "message caption is too long")
	if r != nil {
		return *r
	}
	s.fileID(data)
	return s.post(p, &Message{Text: text, Markup: p.str("caption"), File: data, Kind: key})
}

// sendPhoto takes up to 10 MB.
func (s *Server) sendPhoto(p params) reply { return s.upload(p, "photo", 10<<20) }

// sendDocument takes up to 50 MB.
func (s *Server) sendDocument(p params) reply { return s.upload(p, "document", 50<<20) }

// reactions that a bot may give (Bot API, ReactionTypeEmoji). ✅ is not among
// them. The list is from memory of the documentation; the ones in use are sure.
const reactions = "👍 👎 ❤ 🔥 🥰 👏 😁 🤔 🤯 😱 🤬 😢 🎉 🤩 🤮 💩 🙏 👌 🕊 🤡 🥱 🥴 😍 🐳 ❤‍🔥 🌚 🌭 💯 🤣 ⚡ 🍌 🏆 💔 🤨 😐 🍓 🍾 💋 🖕 😈 😴 😭 🤓 👻 👨‍💻 👀 🎃 🙈 😇 😨 🤝 ✍ 🤗 🫡 🎅 🎄 ☃ 💅 🤪 🗿 🆒 💘 🙉 🦄 😘 💊 🙊 😎 👾 🤷‍♂ 🤷 🤷‍♀ 😡"

// setMessageReaction replaces the bot's reactions, of which there may be one. It is
// idempotent: that is what the bot uses it for.
func (s *Server) setMessageReaction(p params) reply {
	c, r := s.writable(p)
	if r != nil {
		return *r
	}
	m := c.find(int(p.int("message_id")))
	if m == nil {
		return bad("message to react not found") // recalled
	}
	var rs []struct{ Type, Emoji string }
	if json.Unmarshal([]byte(p.str("reaction")), &rs) != nil {
		return bad("can't parse reaction types JSON object") // recalled
	}
	if len(rs) > 1 {
		return bad("REACTIONS_TOO_MANY") // recalled
	}
	m.Reactions = nil
	for _, x := range rs {
		if x.Type != "emoji" || !has(strings.Fields(reactions), x.Emoji) {
			return bad("REACTION_INVALID")
		}
		m.Reactions = append(m.Reactions, x.Emoji)
	}
	return ok(true)
}

// getFile gives the path of a file, which the download link ends with.
func (s *Server) getFile(p params) reply {
	id := p.str("file_id")
	data, known := s.world.files[id]
	if !known {
		return bad("invalid file_id") // recalled
	}
	if len(data) > 20<<20 {
		return bad("file is too big")
	}
	return ok(map[string]any{"file_id": id, "file_unique_id": "u" + id, "file_size": len(data), "file_path": "photos/" + id + ".jpg"})
}

// serveFile is the download of /file/bot<token>/photos/<id>.jpg.
func (s *Server) serveFile(w http.ResponseWriter, r *http.Request, rest string) {
	token, path, _ := strings.Cut(rest, "/")
	id := strings.TrimSuffix(strings.TrimPrefix(path, "photos/"), ".jpg")
	f := s.fault("download", params{})
	if f.Hold != nil {
		select {
		case <-f.Hold:
		case <-r.Context().Done():
		}
	}
	if f.Cut {
		cut(w)
		return
	}
	if bad := f.reply(); bad != nil {
		write(w, *bad)
		return
	}
	s.mu.Lock()
	data, known := s.world.files[id]
	s.mu.Unlock()
	if token != Token || !known {
		write(w, refuse(404, "Not Found"))
		return
	}
	w.Write(data)
}
