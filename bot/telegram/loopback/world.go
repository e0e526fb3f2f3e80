package loopback

import (
	"encoding/json"
	"maps"
	"strconv"
	"strings"
	"unicode/utf16"
)

// world is what the platform keeps.
type world struct {
	users     map[int64]*User
	chats     map[int64]*Chat
	callbacks map[string]bool // open presses; false once answered
	files     map[string][]byte
	nextUser  int64
	nextGroup int64
	nextShare int // private chats and basic groups share one sequence of message ids
	nextPress int
}

// init leaves gaps between the ranges of ids, so that a mixed-up id finds nothing.
func (w *world) init() {
	w.users, w.chats = map[int64]*User{}, map[int64]*Chat{}
	w.callbacks, w.files = map[string]bool{}, map[string][]byte{}
	w.nextUser, w.nextGroup, w.nextShare = 5_000_000_001, 4_000_000_001, 100 // as large as the platform's are now
}

// User is a person.
type User struct {
	s       *Server
	ID      int64
	Name    string
	started bool // has pressed start
	blocked bool
}

// Chat is a private chat (its id is the person's), a group or a supergroup.
type Chat struct {
	s        *Server
	ID       int64
	Type     string // private, group, supergroup
	Title    string
	status   map[int64]string // of members, the bot too: creator, administrator, member, left, kicked
	messages []*Message
	topics   map[int]string // titles of forum topics by message_thread_id
	movedTo  int64          // a basic group that became a supergroup
	nextID   int            // supergroups count alone
	lastBot  bool           // the bot was the last bot to write: bare commands are its
}

// Button is one of an inline keyboard.
type Button struct{ Text, Data, URL string }

// Message as the platform keeps it.
type Message struct {
	ID        int
	Chat      int64
	From      int64 // BotID for the bot's
	Text      string
	Markup    string // as the bot sent it, before its HTML was read
	Date      int64
	EditDate  int64
	ReplyTo   int
	Thread    int
	Buttons   [][]Button
	Reactions []string // the bot's, on this message
	File      []byte   // picture or document of the bot's
	Kind      string   // text, photo, document
	Edits     []string // earlier texts
	Deleted   bool
	photo     []map[string]any
	document  map[string]any
	anonymous bool
}

// Labels of the message's buttons, row after row.
func (m Message) Labels() []string {
	var out []string
	for _, row := range m.Buttons {
		for _, b := range row {
			out = append(out, b.Text)
		}
	}
	return out
}

// nextMessage is the id of the chat's next message.
func (s *Server) nextMessage(c *Chat) int {
	if c.Type == "supergroup" {
		c.nextID++
		return c.nextID
	}
	s.world.nextShare++
	return s.world.nextShare
}

// add puts a message into its chat.
func (s *Server) add(c *Chat, m *Message) *Message {
	m.ID, m.Chat, m.Date = s.nextMessage(c), c.ID, s.now().Unix()
	if m.Kind == "" {
		m.Kind = "text"
	}
	c.messages = append(c.messages, m)
	s.changed()
	return m
}

// find gives a message that still stands, nil where there is none.
func (c *Chat) find(id int) *Message {
	for _, m := range c.messages {
		if m.ID == id && !m.Deleted {
			return m
		}
	}
	return nil
}

// chatJSON, userJSON and messageJSON are the objects of the Bot API, with the
// fields that a bot reads.
func (c *Chat) chatJSON() chatSent {
	o := chatSent{ID: c.ID, Type: c.Type, Forum: len(c.topics) > 0}
	if c.Type == "private" {
		o.FirstName = c.Title
	} else {
		o.Title = c.Title
	}
	return o
}

type chatSent struct {
	ID        int64  `json:"id"`
	Type      string `json:"type"`
	FirstName string `json:"first_name,omitempty"`
	Title     string `json:"title,omitempty"`
	Forum     bool   `json:"is_forum,omitempty"`
}

// userJSON is a person, or the bot itself.
func (s *Server) userJSON(id int64) userSent {
	if id == BotID {
		return userSent{BotID, true, "Cellar", BotName}
	}
	return userSent{ID: id, FirstName: s.world.users[id].Name}
}

type userSent struct {
	ID        int64  `json:"id"`
	IsBot     bool   `json:"is_bot"`
	FirstName string `json:"first_name"`
	Username  string `json:"username,omitempty"`
}

// messageJSON is a message as the bot gets it; one that is replied to comes without
// its own reply, as on the platform.
func (s *Server) messageJSON(c *Chat, m *Message, inner bool) messageSent {
	chat := c.chatJSON()
	o := messageSent{ID: m.ID, From: s.userJSON(m.From), Chat: chat, Date: m.Date, EditDate: m.EditDate,
		Thread: m.Thread, InTopic: m.Thread != 0, Document: m.document, Photo: m.photo}
	if m.anonymous { // the stand-in's id is recalled
		o.From, o.Sender = userSent{1087968824, true, "Group", "GroupAnonymousBot"}, &chat
	}
	if m.photo != nil {
		o.Caption = m.Text
	} else {
		o.Text, o.Entities = m.Text, entities(m.Text)
	}
	if m.ReplyTo != 0 && !inner {
		if to := c.find(m.ReplyTo); to != nil {
			o.ReplyTo = s.messageJSON(c, to, true)
		}
	} else if m.Thread != 0 && !inner { // answers the message that opened the topic (recalled)
		o.ReplyTo = map[string]any{
			"message_id": m.Thread, "date": m.Date, "chat": chat, "message_thread_id": m.Thread, "is_topic_message": true,
			"forum_topic_created": map[string]any{"name": c.topics[m.Thread], "icon_color": 7322096},
		}
	}
	return o
}

// messageSent has the platform's order of the first fields.
type messageSent struct {
	ID       int              `json:"message_id"`
	From     userSent         `json:"from"`
	Sender   *chatSent        `json:"sender_chat,omitempty"`
	Chat     chatSent         `json:"chat"`
	Date     int64            `json:"date"`
	EditDate int64            `json:"edit_date,omitempty"`
	Thread   int              `json:"message_thread_id,omitempty"`
	InTopic  bool             `json:"is_topic_message,omitempty"`
	ReplyTo  any              `json:"reply_to_message,omitempty"`
	Document map[string]any   `json:"document,omitempty"`
	Photo    []map[string]any `json:"photo,omitempty"`
	Caption  string           `json:"caption,omitempty"`
	Text     string           `json:"text,omitempty"`
	Entities []map[string]any `json:"entities,omitempty"`
}

// with is the message with more fields, or others in their place.
func (o messageSent) with(fields map[string]any) any {
	if len(fields) == 0 {
		return o
	}
	raw, err := json.Marshal(o)
	if err != nil {
		panic("loopback: " + err.Error())
	}
	all := map[string]any{}
	if err := json.Unmarshal(raw, &all); err != nil {
		panic("loopback: " + err.Error())
	}
	maps.Copy(all, fields)
	return all
}

// entities marks commands and mentions, with UTF-16 offsets as the platform does.
func entities(text string) []map[string]any {
	if !strings.ContainsAny(text, "/@") {
		return nil
	}
	var out []map[string]any
	units, start, word := 0, 0, ""
	flush := func() {
		kind := ""
		switch {
		case len(word) > 1 && word[0] == '/':
			kind = "bot_command"
		case len(word) > 1 && word[0] == '@':
			kind = "mention"
		}
		if kind != "" {
			out = append(out, map[string]any{"type": kind, "offset": start, "length": units - start})
		}
		word = ""
	}
	for _, r := range text {
		if r == ' ' || r == '\n' {
			flush()
			units++
			start = units
			continue
		}
		word += string(r)
		units += len(utf16.Encode([]rune{r}))
	}
	flush()
	return out
}

// Keep stores a file and gives its id, as if somebody had sent it.
func (s *Server) Keep(data []byte) string { s.mu.Lock(); defer s.mu.Unlock(); return s.fileID(data) }

// fileID stores a file for ever under an id of this bot.
func (s *Server) fileID(data []byte) string {
	id := "file" + strconv.Itoa(len(s.world.files)+1)
	s.world.files[id] = data
	return id
}
