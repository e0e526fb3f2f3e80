-- +goose Up
-- Ids that other rows or the platform remember are never used again
-- (AUTOINCREMENT), else the key of an old answer would swallow a new one.
-- "must" in ASCII: what tells our files from other programs' databases.
PRAGMA application_id = 1836413812;

-- What belongs to the file: the next update to ask for, the last poll, whether a
-- host has claimed it.
CREATE TABLE meta (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID;

-- One household. Everything below that is a household's has its book.
CREATE TABLE book (
  id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL, created TEXT NOT NULL,
  claimed INTEGER NOT NULL DEFAULT 0 CHECK (claimed IN (0,1))
) STRICT;

-- A person; gone is NULL while present. Rows stay, because entries name them.
CREATE TABLE member (
  id INTEGER PRIMARY KEY AUTOINCREMENT, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE,
  name TEXT NOT NULL, keeper INTEGER NOT NULL DEFAULT 0 CHECK (keeper IN (0,1)),
  host INTEGER NOT NULL DEFAULT 0 CHECK (host IN (0,1)),
  platform_user INTEGER NOT NULL DEFAULT 0, joined TEXT NOT NULL, gone TEXT, via INTEGER NOT NULL DEFAULT 0
) STRICT;
CREATE INDEX member_book ON member(book);
CREATE INDEX member_user ON member(platform_user) WHERE platform_user <> 0;

-- Where a book is spoken with; hidden: the platform shows us commands only.
CREATE TABLE chat (
  id INTEGER PRIMARY KEY AUTOINCREMENT, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE,
  platform TEXT NOT NULL, platform_id INTEGER NOT NULL, kind TEXT NOT NULL CHECK (kind IN ('private','group')),
  title TEXT NOT NULL DEFAULT '', member INTEGER NOT NULL DEFAULT 0,
  admitted INTEGER NOT NULL DEFAULT 1 CHECK (admitted IN (0,1)), silent INTEGER NOT NULL DEFAULT 0 CHECK (silent IN (0,1)),
  hidden INTEGER NOT NULL DEFAULT 0 CHECK (hidden IN (0,1)), UNIQUE (platform, platform_id)
) STRICT;
CREATE INDEX chat_book ON chat(book);
-- Ids that a chat had before it was turned into a larger one.
CREATE TABLE chat_alias (
  platform TEXT NOT NULL, platform_id INTEGER NOT NULL, chat INTEGER NOT NULL REFERENCES chat(id) ON DELETE CASCADE,
  PRIMARY KEY (platform, platform_id)
) STRICT, WITHOUT ROWID;
-- Who was seen in a group.
CREATE TABLE chat_member (
  chat INTEGER NOT NULL REFERENCES chat(id) ON DELETE CASCADE, member INTEGER NOT NULL REFERENCES member(id) ON DELETE CASCADE,
  seen TEXT NOT NULL, PRIMARY KEY (chat, member)
) STRICT, WITHOUT ROWID;

-- What was typed, exactly. The key is the platform's and never rewritten.
CREATE TABLE message (
  id INTEGER PRIMARY KEY AUTOINCREMENT, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE,
  chat INTEGER NOT NULL REFERENCES chat(id) ON DELETE CASCADE, member INTEGER NOT NULL,
  origin_chat INTEGER NOT NULL, platform_message INTEGER NOT NULL, text TEXT NOT NULL,
  at TEXT NOT NULL CHECK (length(at) = 24), edited TEXT, reply_to INTEGER NOT NULL DEFAULT 0, thread INTEGER NOT NULL DEFAULT 0,
  kind TEXT NOT NULL DEFAULT 'text', UNIQUE (origin_chat, platform_message)
) STRICT;
CREATE INDEX message_member ON message(book, member, at);
CREATE INDEX message_book ON message(book, at);
-- What a message said until it was edited.
CREATE TABLE message_edit (
  id INTEGER PRIMARY KEY, message INTEGER NOT NULL REFERENCES message(id) ON DELETE CASCADE,
  text TEXT NOT NULL, until TEXT NOT NULL
) STRICT;
CREATE INDEX message_edit_of ON message_edit(message);

-- Numbers of batches; a number stays even where every entry was taken back.
CREATE TABLE batch (
  book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE, n INTEGER NOT NULL, created TEXT NOT NULL,
  PRIMARY KEY (book, n)
) STRICT, WITHOUT ROWID;

-- The book itself. Rows are never rewritten but for live, which only says that
-- no newer row of the root exists. Units and digits are as typed.
CREATE TABLE entry (
  id INTEGER PRIMARY KEY AUTOINCREMENT, root INTEGER NOT NULL, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE,
  batch INTEGER NOT NULL, message INTEGER NOT NULL, ordinal INTEGER NOT NULL,
  quantity TEXT NOT NULL, value REAL, unit TEXT NOT NULL, typed TEXT NOT NULL, deed TEXT NOT NULL,
  material TEXT NOT NULL, basis TEXT NOT NULL, done_by TEXT NOT NULL, text TEXT NOT NULL, instrument TEXT NOT NULL,
  type TEXT NOT NULL, key TEXT NOT NULL, other INTEGER NOT NULL, of_root INTEGER NOT NULL,
  approx INTEGER NOT NULL CHECK (approx IN (0,1)), at TEXT NOT NULL CHECK (length(at) = 24), day_only INTEGER NOT NULL CHECK (day_only IN (0,1)),
  author INTEGER NOT NULL, author_name TEXT NOT NULL, typed_at TEXT NOT NULL CHECK (length(typed_at) = 24),
  void INTEGER NOT NULL DEFAULT 0 CHECK (void IN (0,1)), supersedes INTEGER NOT NULL DEFAULT 0,
  live INTEGER NOT NULL DEFAULT 1 CHECK (live IN (0,1))
) STRICT;
CREATE INDEX entry_batch ON entry(book, batch, id);
CREATE INDEX entry_root ON entry(root, id);
CREATE INDEX entry_message ON entry(message, ordinal);
CREATE UNIQUE INDEX entry_once ON entry(message, ordinal) WHERE supersedes = 0 AND message <> 0;

-- The batch that a member spoke of last in a chat.
CREATE TABLE focus (
  chat INTEGER NOT NULL REFERENCES chat(id) ON DELETE CASCADE, member INTEGER NOT NULL, batch INTEGER NOT NULL,
  at TEXT NOT NULL, PRIMARY KEY (chat, member)
) STRICT, WITHOUT ROWID;

-- What was asked and waits for an answer: one a member and chat.
CREATE TABLE question (
  id INTEGER PRIMARY KEY, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE,
  chat INTEGER NOT NULL REFERENCES chat(id) ON DELETE CASCADE, member INTEGER NOT NULL, message INTEGER NOT NULL,
  kind TEXT NOT NULL, payload BLOB NOT NULL, asked TEXT NOT NULL, UNIQUE (chat, member)
) STRICT;
CREATE INDEX question_message ON question(book, message);

-- What is to be sent, and what became of it. No reference to book: a row that was
-- sent outlives its text.
CREATE TABLE outbox (
  id INTEGER PRIMARY KEY AUTOINCREMENT, book INTEGER NOT NULL, chat INTEGER NOT NULL REFERENCES chat(id) ON DELETE CASCADE,
  source TEXT NOT NULL, kind TEXT NOT NULL, text TEXT NOT NULL, html INTEGER NOT NULL DEFAULT 0,
  reply_to INTEGER NOT NULL DEFAULT 0, thread INTEGER NOT NULL DEFAULT 0, edits INTEGER NOT NULL DEFAULT 0,
  reaction TEXT NOT NULL DEFAULT '', render TEXT NOT NULL DEFAULT '', plain INTEGER NOT NULL DEFAULT 0,
  batch INTEGER NOT NULL DEFAULT 0, message INTEGER NOT NULL DEFAULT 0, priority INTEGER NOT NULL DEFAULT 0,
  state TEXT NOT NULL DEFAULT 'due' CHECK (state IN ('due','sending','sent','unknown','dead')),
  not_before TEXT NOT NULL CHECK (length(not_before) = 24), created TEXT NOT NULL, sent TEXT, platform_message INTEGER NOT NULL DEFAULT 0,
  tries INTEGER NOT NULL DEFAULT 0, why TEXT NOT NULL DEFAULT '', UNIQUE (source, kind)
) STRICT;
CREATE INDEX outbox_due ON outbox(priority, id) WHERE state = 'due';
CREATE INDEX outbox_sending ON outbox(id) WHERE state = 'sending';
CREATE INDEX outbox_chat ON outbox(chat, id);
CREATE INDEX outbox_platform ON outbox(chat, platform_message) WHERE platform_message <> 0;
CREATE INDEX outbox_message ON outbox(message, id) WHERE message <> 0;

-- Buttons under an answer; the key is random and all that the platform sees.
CREATE TABLE button (
  key TEXT PRIMARY KEY, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE, chat INTEGER NOT NULL,
  outbox INTEGER NOT NULL REFERENCES outbox(id) ON DELETE CASCADE, ordinal INTEGER NOT NULL,
  label TEXT NOT NULL, action BLOB NOT NULL, expires TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX button_outbox ON button(outbox, ordinal);
-- Presses that were handled, by the platform's id.
CREATE TABLE press (id TEXT PRIMARY KEY) STRICT, WITHOUT ROWID;

-- Raw updates, on disk before they are acknowledged; raw is emptied with the work.
CREATE TABLE inbox (
  seq INTEGER PRIMARY KEY AUTOINCREMENT, update_id INTEGER NOT NULL, origin_chat INTEGER NOT NULL, message_id INTEGER NOT NULL,
  key TEXT NOT NULL UNIQUE, raw BLOB NOT NULL, received TEXT NOT NULL,
  state TEXT NOT NULL DEFAULT 'new' CHECK (state IN ('new','done','kept','parked')), attempts INTEGER NOT NULL DEFAULT 0, why TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE INDEX inbox_new ON inbox(seq) WHERE state = 'new';
CREATE INDEX inbox_done ON inbox(received) WHERE state = 'done';

-- Hashes of links that admit somebody, until they are used.
CREATE TABLE invite (
  hash BLOB PRIMARY KEY, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE, kind TEXT NOT NULL, expires TEXT NOT NULL, by_member INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- What reminders are about, with the next instant worth a look; NULL: never.
CREATE TABLE subject (
  book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE, kind TEXT NOT NULL, n INTEGER NOT NULL, next_due TEXT CHECK (length(next_due) = 24),
  PRIMARY KEY (book, kind, n)
) STRICT, WITHOUT ROWID;
CREATE INDEX subject_due ON subject(next_due) WHERE next_due IS NOT NULL;

-- Reminders made; the key makes each once, however often the clock ticks.
CREATE TABLE said (
  id INTEGER PRIMARY KEY, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE,
  rule TEXT NOT NULL, kind TEXT NOT NULL, n INTEGER NOT NULL, anchor INTEGER NOT NULL, occurrence INTEGER NOT NULL,
  made TEXT NOT NULL, due TEXT NOT NULL, answered TEXT, answer TEXT NOT NULL DEFAULT '', snoozed TEXT,
  muted INTEGER NOT NULL DEFAULT 0, outbox INTEGER NOT NULL DEFAULT 0,
  UNIQUE (book, kind, n, rule, anchor, occurrence)
) STRICT;

-- A cache that may be emptied at any time.
CREATE TABLE forecast (
  book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE, batch INTEGER NOT NULL, entry INTEGER NOT NULL, blob BLOB NOT NULL,
  PRIMARY KEY (book, batch)
) STRICT, WITHOUT ROWID;

-- Pictures; jpeg is NULL until it was fetched.
CREATE TABLE photo (
  id INTEGER PRIMARY KEY, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE, batch INTEGER NOT NULL, message INTEGER NOT NULL,
  file_id TEXT NOT NULL, file_unique TEXT NOT NULL, jpeg BLOB, barcode TEXT NOT NULL DEFAULT '', at TEXT NOT NULL
) STRICT;
CREATE INDEX photo_batch ON photo(book, batch);
CREATE INDEX photo_fetch ON photo(id) WHERE jpeg IS NULL;
