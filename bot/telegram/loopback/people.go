package loopback

import "strconv"

// Person makes somebody who has not spoken to the bot yet.
func (s *Server) Person(name string) *User {
	s.mu.Lock()
	defer s.mu.Unlock()
	u := &User{s: s, ID: s.world.nextUser, Name: name}
	s.world.nextUser++
	s.world.users[u.ID] = u
	s.world.chats[u.ID] = &Chat{s: s, ID: u.ID, Type: "private", Title: name, status: map[int64]string{u.ID: "member", BotID: "member"}}
	return u
}

// Private is the person's chat with the bot.
func (u *User) Private() *Chat { u.s.mu.Lock(); defer u.s.mu.Unlock(); return u.s.world.chats[u.ID] }

// Group makes a basic group of these people, the first its creator, without the bot.
func (s *Server) Group(title string, people ...*User) *Chat { return s.group("group", title, people) }

// Supergroup makes a group with message ids of its own.
func (s *Server) Supergroup(title string, people ...*User) *Chat {
	return s.group("supergroup", title, people)
}

// group makes either kind. Ids of supergroups begin with -100.
func (s *Server) group(kind, title string, people []*User) *Chat {
	s.mu.Lock()
	defer s.mu.Unlock()
	id := -s.world.nextGroup
	if kind == "supergroup" {
		id -= 1000000000000
	}
	s.world.nextGroup++
	c := &Chat{s: s, ID: id, Type: kind, Title: title, status: map[int64]string{}, topics: map[int]string{}}
	for i, u := range people {
		c.status[u.ID] = "member"
		if i == 0 {
			c.status[u.ID] = "creator"
		}
	}
	s.world.chats[id] = c
	return c
}

// Said is what may go with a message.
type Said struct {
	ReplyTo   int    // message id
	Thread    int    // forum topic
	Photo     []byte // a picture; the text is its caption
	Document  []byte // a file, called Name
	Name      string
	Anonymous bool // as an anonymous admin
	Extra     map[string]any
}

// Start presses the start button of the private chat; it gives the message's id.
func (u *User) Start(payload string) int {
	text := "/start"
	if payload != "" {
		text += " " + payload
	}
	return u.Say(u.Private(), text)
}

// Say sends a text; in the private chat it also lets the bot write back.
func (u *User) Say(c *Chat, text string, more ...Said) int {
	s := u.s
	s.mu.Lock()
	defer s.mu.Unlock()
	m := &Message{From: u.ID, Text: text}
	var extra map[string]any
	for _, a := range more {
		m.ReplyTo, m.Thread, m.anonymous, extra = a.ReplyTo, a.Thread, a.Anonymous, a.Extra
		if a.Photo != nil {
			m.photo, m.Kind = s.photoSizes(a.Photo), "photo"
		}
		if a.Document != nil {
			id := s.fileID(a.Document)
			m.document, m.Kind = map[string]any{"file_id": id, "file_unique_id": "u" + id, "file_name": a.Name, "file_size": len(a.Document)}, "document"
		}
	}
	if c.Type == "private" {
		u.started, u.blocked = true, false
	}
	s.add(c, m)
	if !s.shown(c, m) {
		return m.ID
	}
	s.push("message", s.messageJSON(c, m, false).with(extra))
	return m.ID
}

// photoSizes is the array of a picture: a thumbnail, then the picture itself.
func (s *Server) photoSizes(data []byte) []map[string]any {
	id := s.fileID(data)
	size := func(id string, w int) map[string]any {
		return map[string]any{"file_id": id, "file_unique_id": "u" + id, "width": w, "height": w, "file_size": len(data)}
	}
	return []map[string]any{size(id+"s", 90), size(id, 1280)}
}

// Edit changes a text; the bot sees it if it could see the message.
func (u *User) Edit(c *Chat, id int, text string) {
	s := u.s
	s.mu.Lock()
	defer s.mu.Unlock()
	m := c.find(id)
	m.Edits = append(m.Edits, m.Text)
	m.Text, m.EditDate = text, s.now().Unix()
	if s.shown(c, m) {
		s.push("edited_message", s.messageJSON(c, m, false))
	}
}

// Delete removes a message: the bot is told nothing.
func (u *User) Delete(c *Chat, id int) {
	u.s.mu.Lock()
	defer u.s.mu.Unlock()
	if m := c.find(id); m != nil {
		m.Deleted = true
	}
}

// Press taps the button with this label on a message of the bot's; it gives the
// id of the press, "" where there is no such button.
func (u *User) Press(c *Chat, id int, label string) string {
	data := ""
	u.s.mu.Lock()
	if m := c.find(id); m != nil {
		for _, row := range m.Buttons {
			for _, b := range row {
				if b.Text == label {
					data = b.Data
				}
			}
		}
	}
	u.s.mu.Unlock()
	if data == "" {
		return ""
	}
	return u.PressData(c, id, data)
}

// PressData sends any callback data, as a changed client may.
func (u *User) PressData(c *Chat, id int, data string) string {
	s := u.s
	s.mu.Lock()
	defer s.mu.Unlock()
	s.world.nextPress++
	press := "press" + strconv.Itoa(s.world.nextPress)
	s.world.callbacks[press] = true
	message := any(map[string]any{"message_id": id, "date": 0, "chat": c.chatJSON()}) // an InaccessibleMessage
	if m := c.find(id); m != nil {
		message = s.messageJSON(c, m, false)
	}
	s.push("callback_query", map[string]any{"id": press, "from": s.userJSON(u.ID), "chat_instance": "1", "data": data, "message": message})
	return press
}

// AddBot adds the bot to a group; RemoveBot throws it out.
func (u *User) AddBot(c *Chat) { u.s.botStatus(u, c, "left", "member") }

// RemoveBot throws the bot out of a group.
func (u *User) RemoveBot(c *Chat) { u.s.botStatus(u, c, "member", "kicked") }

// Promote makes the bot an admin of the group, who sees everything.
func (u *User) Promote(c *Chat) { u.s.botStatus(u, c, "member", "administrator") }

// Block stops the bot from writing to this person; the bot is told.
func (u *User) Block() {
	u.s.mu.Lock()
	u.blocked = true
	u.s.mu.Unlock()
	u.s.botStatus(u, u.Private(), "member", "kicked")
}

// Unblock lets the bot write again without a word to it; the bot is told.
func (u *User) Unblock() {
	u.s.mu.Lock()
	u.blocked = false
	u.s.mu.Unlock()
	u.s.botStatus(u, u.Private(), "kicked", "member")
}

// botStatus changes what the bot is in a chat and tells it so.
func (s *Server) botStatus(by *User, c *Chat, old, now string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c.status[BotID] = now
	member := func(status string) map[string]any {
		return map[string]any{"user": s.userJSON(BotID), "status": status}
	}
	s.push("my_chat_member", map[string]any{
		"chat": c.chatJSON(), "from": s.userJSON(by.ID), "date": s.now().Unix(),
		"old_chat_member": member(old), "new_chat_member": member(now),
	})
}

// Leave takes the person out of a group; a service message says so.
func (u *User) Leave(c *Chat) {
	u.s.service(c, u, map[string]any{"left_chat_member": u.s.userJSON(u.ID)})
	u.s.mu.Lock()
	defer u.s.mu.Unlock()
	c.status[u.ID] = "left"
}

// LeaveUnseen is Leave without the service message, as in a large group.
func (u *User) LeaveUnseen(c *Chat) {
	u.s.mu.Lock()
	defer u.s.mu.Unlock()
	c.status[u.ID] = "left"
}

// Join puts the person into a group.
func (u *User) Join(c *Chat) {
	u.s.mu.Lock()
	c.status[u.ID] = "member"
	u.s.mu.Unlock()
	u.s.service(c, u, map[string]any{"new_chat_members": []any{u.s.userJSON(u.ID)}})
}

// service delivers a service message, which privacy mode does not hide.
func (s *Server) service(c *Chat, by *User, fields map[string]any) {
	s.mu.Lock()
	defer s.mu.Unlock()
	m := s.add(c, &Message{From: by.ID, Kind: "service"})
	if s.botIn(c) {
		s.push("message", s.messageJSON(c, m, false).with(fields))
	}
}

// Topic opens a forum topic in a supergroup and gives its thread id.
func (u *User) Topic(c *Chat, name string) int {
	u.s.mu.Lock()
	defer u.s.mu.Unlock()
	m := u.s.add(c, &Message{From: u.ID, Kind: "service"})
	c.topics[m.ID] = name
	return m.ID
}

// CloseTopic deletes a topic: nothing can be sent to it any more.
func (u *User) CloseTopic(c *Chat, thread int) {
	u.s.mu.Lock()
	defer u.s.mu.Unlock()
	delete(c.topics, thread)
}

// Migrate turns a basic group into a supergroup, which is returned: a new id,
// message ids from 1, and a service message in each of the two.
func (s *Server) Migrate(old *Chat, by *User) *Chat {
	c := s.Supergroup(old.Title)
	s.mu.Lock()
	for id, st := range old.status {
		c.status[id] = st
	}
	old.movedTo = c.ID
	s.mu.Unlock()
	s.service(old, by, map[string]any{"migrate_to_chat_id": c.ID})
	s.service(c, by, map[string]any{"migrate_from_chat_id": old.ID})
	return c
}
