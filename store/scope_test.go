package store

import (
	"bytes"
	"reflect"
	"testing"

	"mustbook/ferment"
)

// calls runs every method of a transaction on w's first household with b as the
// book it says it speaks for. Its keys are the methods' names.
func (w *world) calls(book int64, e ferment.Entry, out, photo int64, key string) map[string]func(*Tx) (any, error) {
	none := func(err error) (any, error) { return nil, err }
	q := Question{Book: book, Chat: w.cellar.ID, Member: w.nora.ID, Message: 4, Kind: "k", Payload: []byte("{}"), Asked: noon}
	said := SaidRow{Book: book, Rule: "R1", Kind: "batch", N: 1, MadeAt: noon, Due: noon}
	return map[string]func(*Tx) (any, error){
		// Of a household.
		"AddEntries": func(tx *Tx) (any, error) {
			e := e
			e.Ordinal, e.ID = e.Ordinal+1, 0
			return tx.AddEntries(book, []ferment.Entry{e})
		},
		"AllEntries":       func(tx *Tx) (any, error) { return tx.AllEntries(book, e.Batch) },
		"Chain":            func(tx *Tx) (any, error) { return tx.Chain(book, e.Root) },
		"EachEntry":        func(tx *Tx) (any, error) { return none(tx.EachEntry(book, func(EntryRow) error { return nil })) },
		"EditsOf":          func(tx *Tx) (any, error) { return tx.EditsOf(book, e.Message) },
		"Entries":          func(tx *Tx) (any, error) { return tx.Entries(book, e.Batch) },
		"EntriesOfMessage": func(tx *Tx) (any, error) { return tx.EntriesOfMessage(book, e.Message) },
		"EntriesOfOrigin":  func(tx *Tx) (any, error) { return tx.EntriesOfOrigin(book, -1) },
		"Entry":            func(tx *Tx) (any, error) { return tx.Entry(book, e.Root) },
		"Live":             func(tx *Tx) (any, error) { es, _, err := tx.Live(book, e.Batch); return es, err },
		"VoidRoots":        func(tx *Tx) (any, error) { return none(tx.VoidRoots(book, []int64{e.Root}, 1, noon)) },
		"ReviveRoots":      func(tx *Tx) (any, error) { return none(tx.ReviveRoots(book, []int64{e.Root})) },
		"Message":          func(tx *Tx) (any, error) { return tx.Message(book, e.Message) },
		"UpdateMessageText": func(tx *Tx) (any, error) {
			return none(tx.UpdateMessageText(book, e.Message, "changed", noon))
		},
		"NewestOf":    func(tx *Tx) (any, error) { return tx.NewestOf(book, w.nora.ID, noon) },
		"NewestOfAll": func(tx *Tx) (any, error) { return tx.NewestOfAll(book, noon) },
		"Member":      func(tx *Tx) (any, error) { return tx.Member(book, w.nora.ID) },
		"Members":     func(tx *Tx) (any, error) { return tx.Members(book) },
		"SetMember": func(tx *Tx) (any, error) {
			m := w.nora
			m.Book, m.Name = book, "changed"
			return none(tx.SetMember(m))
		},
		"Chats":        func(tx *Tx) (any, error) { return tx.Chats(book) },
		"BatchNumbers": func(tx *Tx) (any, error) { return tx.BatchNumbers(book) },
		"Book":         func(tx *Tx) (any, error) { return tx.Book(book) },
		"MovePhoto":    func(tx *Tx) (any, error) { return none(tx.MovePhoto(book, photo, 2)) },
		"DropPhoto":    func(tx *Tx) (any, error) { return none(tx.DropPhoto(book, photo)) },
		"Photo":        func(tx *Tx) (any, error) { return tx.Photo(book, photo) },
		"Photos":       func(tx *Tx) (any, error) { return tx.Photos(book, 1) },
		"SaidAs":       func(tx *Tx) (any, error) { rs, _, err := tx.SaidAs(book, "batch", 1); return rs, err },
		"Behind":       func(tx *Tx) (any, error) { return tx.Behind(), nil },
		"Entered":      func(tx *Tx) (any, error) { return tx.Entered(), nil },
		"Said":         func(tx *Tx) (any, error) { return tx.Said(book, "batch", 1) },
		"UpdateSaid": func(tx *Tx) (any, error) {
			s := said
			s.ID, s.Answer = 1, "changed"
			return none(tx.UpdateSaid(s))
		},
		"Forecast": func(tx *Tx) (any, error) { _, blob, err := tx.Forecast(book, 1); return blob, err },
		"Holds":    func(tx *Tx) (any, error) { return tx.Holds(book) },

		// Of the file, of a chat, or writing new rows of the book named.
		"AddInvite": func(tx *Tx) (any, error) { return none(tx.AddInvite([]byte("h"), book, "join", noon, 1)) },
		"AddMember": func(tx *Tx) (any, error) { return tx.AddMember(Member{Book: book, Name: "kit", Joined: noon}) },
		"AddMessage": func(tx *Tx) (any, error) {
			m, _, err := tx.AddMessage(Message{Book: book, Chat: w.cellar.ID, At: noon})
			return m, err
		},
		"AddPhoto":     func(tx *Tx) (any, error) { return tx.AddPhoto(Photo{Book: book, Batch: 1, At: noon}) },
		"AddSaid":      func(tx *Tx) (any, error) { id, _, err := tx.AddSaid(said); return id, err },
		"Books":        func(tx *Tx) (any, error) { return tx.Books() },
		"BumpAttempts": func(tx *Tx) (any, error) { return none(tx.BumpAttempts([]int64{1})) },
		"Button":       func(tx *Tx) (any, error) { return tx.Button(key, noon) },
		"Chat":         func(tx *Tx) (any, error) { return tx.Chat(w.cellar.ID) },
		"ChatByPlatform": func(tx *Tx) (any, error) {
			if c, err := tx.ChatByPlatform("script", -999); err == nil {
				return c, nil
			}
			return tx.ChatByPlatform("script", -1)
		},
		"ClaimBook":     func(tx *Tx) (any, error) { return none(tx.ClaimBook(book)) },
		"CloseQuestion": func(tx *Tx) (any, error) { return none(tx.CloseQuestion(book, 999)) },
		"CreateBook":    func(tx *Tx) (any, error) { return tx.CreateBook("new", noon) },
		"DropInbox":     func(tx *Tx) (any, error) { return none(tx.DropInbox(1)) },
		"DropMessage":   func(tx *Tx) (any, error) { return none(tx.DropMessage(e.Message)) },
		"DueOut":        func(tx *Tx) (any, error) { return tx.DueOut(noon, 9) },
		"DueSubjects":   func(tx *Tx) (any, error) { return tx.DueSubjects(noon, 9) },
		"Dump":          func(tx *Tx) (any, error) { return tx.Dump("entries", noon.Location()) },
		"Enqueue": func(tx *Tx) (any, error) {
			id, _, err := tx.Enqueue(Out{Book: book, Chat: w.cellar.ID, Source: "s", Kind: "reply", Created: noon, Buttons: []Button{{Label: "Undo", Expires: noon}}})
			return id, err
		},
		"FinishInbox": func(tx *Tx) (any, error) { return nil, bothKinds(tx) },
		"Focuses":     func(tx *Tx) (any, error) { return tx.Focuses(w.cellar.ID) },
		"Forget":      func(tx *Tx) (any, error) { return none(tx.Forget(book)) },
		"Gather": func(tx *Tx) (any, error) {
			tx.wroteMuch() // else it was read before
			return none(tx.Gather(book))
		},
		"MarkDead":      func(tx *Tx) (any, error) { return none(tx.MarkDead(out, "why")) },
		"MarkRetry":     func(tx *Tx) (any, error) { return none(tx.MarkRetry(out, noon)) },
		"MarkSending":   func(tx *Tx) (any, error) { return none(tx.MarkSending([]int64{out})) },
		"MarkAllSent":   func(tx *Tx) (any, error) { return none(tx.MarkAllSent([]Sent{{out, 55}}, noon)) },
		"MarkSent":      func(tx *Tx) (any, error) { return none(tx.MarkSent(out, 55, noon)) },
		"MarkUnknown":   func(tx *Tx) (any, error) { return none(tx.MarkUnknown(out)) },
		"MemberByUser":  func(tx *Tx) (any, error) { return tx.MemberByUser(71) },
		"MembersOf":     func(tx *Tx) (any, error) { return tx.MembersOf(w.cellar.ID) },
		"MessageByKey":  func(tx *Tx) (any, error) { return tx.MessageByKey(-1, 1) },
		"Meta":          func(tx *Tx) (any, error) { v, _ := tx.Meta("k"); return v, nil },
		"MigrateChat":   func(tx *Tx) (any, error) { return none(tx.MigrateChat("script", -2, -1)) },
		"NewBatch":      func(tx *Tx) (any, error) { return tx.NewBatch(book, noon) },
		"NextInbox":     func(tx *Tx) (any, error) { return tx.NextInbox(9) },
		"Offset":        func(tx *Tx) (any, error) { return tx.Offset(), nil },
		"OnCommit":      func(tx *Tx) (any, error) { tx.OnCommit(func() {}); return nil, nil },
		"OpenQuestion":  func(tx *Tx) (any, error) { tx.PutQuestion(q); return tx.OpenQuestion(w.cellar.ID, w.nora.ID) },
		"Out":           func(tx *Tx) (any, error) { return tx.Out(out) },
		"OutByPlatform": func(tx *Tx) (any, error) { tx.MarkSent(out, 56, noon); return tx.OutByPlatform(w.cellar.ID, 56) },
		"OutOf":         func(tx *Tx) (any, error) { return tx.OutOf(e.Message) },
		"ParkInbox":     func(tx *Tx) (any, error) { return none(tx.ParkInbox(1, "why")) },
		"PendingInbox":  func(tx *Tx) (any, error) { return tx.PendingInbox() },
		"PhotosToFetch": func(tx *Tx) (any, error) { return tx.PhotosToFetch(9) },
		"PressOnce":     func(tx *Tx) (any, error) { return tx.PressOnce("cb") },
		"PruneInbox":    func(tx *Tx) (any, error) { return none(tx.PruneInbox(noon)) },
		"PutChat":       func(tx *Tx) (any, error) { return tx.PutChat(w.cellar) },
		"PutForecast":   func(tx *Tx) (any, error) { return none(tx.PutForecast(book, 1, 1, []byte("f"))) },
		"BoardInbox":    func(tx *Tx) (any, error) { _, err := tx.BoardInbox([]InRow{inRow(45)}, 46); return none(err) },
		"PutInbox":      func(tx *Tx) (any, error) { return none(tx.PutInbox([]InRow{inRow(44)}, 45)) },
		"PutQuestion":   func(tx *Tx) (any, error) { return tx.PutQuestion(q) },
		"RecentOut":     func(tx *Tx) (any, error) { return tx.RecentOut(w.cellar.ID, 9) },
		"SeeInChat":     func(tx *Tx) (any, error) { return none(tx.SeeInChat(w.cellar.ID, w.nora.ID, noon)) },
		"Sending":       func(tx *Tx) (any, error) { return tx.Sending() },
		"SetFocus":      func(tx *Tx) (any, error) { return none(tx.SetFocus(w.cellar.ID, w.nora.ID, 1, noon)) },
		"SetMeta":       func(tx *Tx) (any, error) { return none(tx.SetMeta("k", "v")) },
		"SetNextDue": func(tx *Tx) (any, error) {
			return none(tx.SetNextDue(Subject{Book: book, Kind: "batch", N: 1, NextDue: noon}))
		},
		"SetPhoto":  func(tx *Tx) (any, error) { return none(tx.SetPhoto(photo, []byte("j"), "")) },
		"UseInvite": func(tx *Tx) (any, error) { _, _, _, err := tx.UseInvite([]byte("given"), noon); return nil, err },
	}
}

func bothKinds(tx *Tx) error {
	if err := tx.FinishInbox(true, 1); err != nil {
		return err
	}
	return tx.FinishInbox(false, 1)
}

// scoped are the methods that take a book and read or change what is there.
var scoped = []string{"AddEntries", "AllEntries", "Chain", "EachEntry", "EditsOf", "Entries", "EntriesOfMessage", "EntriesOfOrigin", "Entry", "Live", "VoidRoots",
	"ReviveRoots", "Message", "UpdateMessageText", "NewestOf", "NewestOfAll", "Member", "Members", "SetMember",
	"Chats", "BatchNumbers", "Photo", "Photos", "MovePhoto", "DropPhoto", "Said", "SaidAs", "UpdateSaid", "Forecast", "Holds"}

// mustFull is a world whose first household has one of everything, and the calls
// on it in the name of a book.
func mustFull(t testing.TB, book func(*world) int64) (*world, map[string]func(*Tx) (any, error)) {
	t.Helper()
	w := mustWorld(t)
	var e ferment.Entry
	var out, photo int64
	var key string
	w.update(func(tx *Tx) error {
		e = w.log(tx, 1.049, noon)
		var errs [6]error
		out, _, errs[0] = tx.Enqueue(Out{Book: w.a.ID, Chat: w.cellar.ID, Source: "first", Kind: "reply", Text: "kept", Message: e.Message, Created: noon,
			Buttons: []Button{{Label: "Undo", Expires: noon}}})
		photo, errs[1] = tx.AddPhoto(Photo{Book: w.a.ID, Batch: 1, At: noon})
		_, _, errs[2] = tx.AddSaid(SaidRow{Book: w.a.ID, Rule: "R0", Kind: "batch", N: 1, MadeAt: noon, Due: noon})
		errs[3] = tx.PutForecast(w.a.ID, 1, e.ID, []byte("f"))
		errs[4] = tx.PutInbox([]InRow{inRow(1)}, 2)
		errs[5] = tx.AddInvite([]byte("given"), w.a.ID, "join", noon, w.nora.ID)
		o, err := tx.Out(out)
		if err != nil {
			return err
		}
		key = o.Buttons[0].Key
		for _, err := range errs {
			if err != nil {
				return err
			}
		}
		return nil
	})
	return w, w.calls(book(w), e, out, photo, key)
}

// TestEveryMethodIsKnown keeps the list above whole.
func TestEveryMethodIsKnown(t *testing.T) {
	_, calls := mustFull(t, func(w *world) int64 { return w.a.ID })
	typ := reflect.TypeOf(&Tx{})
	for i := range typ.NumMethod() {
		if calls[typ.Method(i).Name] == nil {
			t.Errorf("%s is missing in calls", typ.Method(i).Name)
		}
	}
	if len(calls) != typ.NumMethod() {
		t.Errorf("%d calls for %d methods", len(calls), typ.NumMethod())
	}
}

// TestScope asks for the first household's rows in the name of the second: nothing
// may come, nothing may change. In its own name, each must find something.
func TestScope(t *testing.T) {
	for _, name := range scoped {
		own, calls := mustFull(t, func(w *world) int64 { return w.a.ID })
		own.update(func(tx *Tx) error {
			if got, err := calls[name](tx); err != nil && name != "AddEntries" {
				t.Errorf("%s in its own book: %v, %v", name, got, err)
			}
			return nil
		})
		w, calls := mustFull(t, func(w *world) int64 { return w.b.ID })
		before := mustDumpAll(t, w.db)
		w.update(func(tx *Tx) error {
			got, err := calls[name](tx)
			switch r := reflect.ValueOf(got); {
			case err != nil:
				wants(t, name, err, ErrNotFound)
			case r.IsValid() && r.Kind() == reflect.Slice && name != "Members" && name != "Chats" && name != "BatchNumbers":
				if r.Len() != 0 {
					t.Errorf("%s gives another book's rows: %v", name, got)
				}
			case name == "Members" && got.([]Member)[0].ID != w.eve.ID, name == "Chats" && got.([]Chat)[0].ID != w.shed.ID:
				t.Errorf("%s: %v", name, got)
			}
			return nil
		})
		if after := mustDumpAll(t, w.db); !bytes.Equal(before, after) {
			t.Errorf("%s changed another book's rows:\n%s", name, diffLines(before, after))
		}
	}
}
