PRAGMA application_id = 1836413812;
-- What a new file with this schema holds; the data are invented.
CREATE TABLE goose_db_version (
		id INTEGER PRIMARY KEY AUTOINCREMENT,
		version_id INTEGER NOT NULL,
		is_applied INTEGER NOT NULL,
		tstamp TIMESTAMP DEFAULT (datetime('now'))
	);
CREATE TABLE meta (key TEXT PRIMARY KEY, value TEXT NOT NULL) STRICT, WITHOUT ROWID;
CREATE TABLE book (
  id INTEGER PRIMARY KEY AUTOINCREMENT, name TEXT NOT NULL, created TEXT NOT NULL,
  claimed INTEGER NOT NULL DEFAULT 0 CHECK (claimed IN (0,1))
) STRICT;
CREATE TABLE member (
  id INTEGER PRIMARY KEY AUTOINCREMENT, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE,
  name TEXT NOT NULL, keeper INTEGER NOT NULL DEFAULT 0 CHECK (keeper IN (0,1)),
  host INTEGER NOT NULL DEFAULT 0 CHECK (host IN (0,1)),
  platform_user INTEGER NOT NULL DEFAULT 0, joined TEXT NOT NULL, gone TEXT, via INTEGER NOT NULL DEFAULT 0
) STRICT;
CREATE TABLE chat (
  id INTEGER PRIMARY KEY AUTOINCREMENT, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE,
  platform TEXT NOT NULL, platform_id INTEGER NOT NULL, kind TEXT NOT NULL CHECK (kind IN ('private','group')),
  title TEXT NOT NULL DEFAULT '', member INTEGER NOT NULL DEFAULT 0,
  admitted INTEGER NOT NULL DEFAULT 1 CHECK (admitted IN (0,1)), silent INTEGER NOT NULL DEFAULT 0 CHECK (silent IN (0,1)),
  hidden INTEGER NOT NULL DEFAULT 0 CHECK (hidden IN (0,1)), UNIQUE (platform, platform_id)
) STRICT;
CREATE TABLE chat_alias (
  platform TEXT NOT NULL, platform_id INTEGER NOT NULL, chat INTEGER NOT NULL REFERENCES chat(id) ON DELETE CASCADE,
  PRIMARY KEY (platform, platform_id)
) STRICT, WITHOUT ROWID;
CREATE TABLE chat_member (
  chat INTEGER NOT NULL REFERENCES chat(id) ON DELETE CASCADE, member INTEGER NOT NULL REFERENCES member(id) ON DELETE CASCADE,
  seen TEXT NOT NULL, PRIMARY KEY (chat, member)
) STRICT, WITHOUT ROWID;
CREATE TABLE message (
  id INTEGER PRIMARY KEY AUTOINCREMENT, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE,
  chat INTEGER NOT NULL REFERENCES chat(id) ON DELETE CASCADE, member INTEGER NOT NULL,
  origin_chat INTEGER NOT NULL, platform_message INTEGER NOT NULL, text TEXT NOT NULL,
  at TEXT NOT NULL CHECK (length(at) = 24), edited TEXT, reply_to INTEGER NOT NULL DEFAULT 0, thread INTEGER NOT NULL DEFAULT 0,
  kind TEXT NOT NULL DEFAULT 'text', UNIQUE (origin_chat, platform_message)
) STRICT;
CREATE TABLE message_edit (
  id INTEGER PRIMARY KEY, message INTEGER NOT NULL REFERENCES message(id) ON DELETE CASCADE,
  text TEXT NOT NULL, until TEXT NOT NULL
) STRICT;
CREATE TABLE batch (
  book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE, n INTEGER NOT NULL, created TEXT NOT NULL,
  PRIMARY KEY (book, n)
) STRICT, WITHOUT ROWID;
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
CREATE TABLE focus (
  chat INTEGER NOT NULL REFERENCES chat(id) ON DELETE CASCADE, member INTEGER NOT NULL, batch INTEGER NOT NULL,
  at TEXT NOT NULL, PRIMARY KEY (chat, member)
) STRICT, WITHOUT ROWID;
CREATE TABLE question (
  id INTEGER PRIMARY KEY, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE,
  chat INTEGER NOT NULL REFERENCES chat(id) ON DELETE CASCADE, member INTEGER NOT NULL, message INTEGER NOT NULL,
  kind TEXT NOT NULL, payload BLOB NOT NULL, asked TEXT NOT NULL, UNIQUE (chat, member)
) STRICT;
CREATE TABLE outbox (
  id INTEGER PRIMARY KEY AUTOINCREMENT, book INTEGER NOT NULL, chat INTEGER NOT NULL REFERENCES chat(id) ON DELETE CASCADE,
  source TEXT NOT NULL, kind TEXT NOT NULL, text TEXT NOT NULL, html INTEGER NOT NULL DEFAULT 0,
  reply_to INTEGER NOT NULL DEFAULT 0, thread INTEGER NOT NULL DEFAULT 0, edits INTEGER NOT NULL DEFAULT 0,
  reaction TEXT NOT NULL DEFAULT '', render TEXT NOT NULL DEFAULT '', plain INTEGER NOT NULL DEFAULT 0,
  batch INTEGER NOT NULL DEFAULT 0, message INTEGER NOT NULL DEFAULT 0, priority INTEGER NOT NULL DEFAULT 0,
  state TEXT NOT NULL DEFAULT 'due' CHECK (state IN ('due','sending','sent','unknown','dead')),
  not_before TEXT NOT NULL CHECK (length(not_before) = 24), created TEXT NOT NULL, sent TEXT, platform_message INTEGER NOT NULL DEFAULT 0,
  tries INTEGER NOT NULL DEFAULT 0, why TEXT NOT NULL DEFAULT '', buttons TEXT NOT NULL DEFAULT '', UNIQUE (source, kind)
) STRICT;
CREATE TABLE press (id TEXT PRIMARY KEY) STRICT, WITHOUT ROWID;
CREATE TABLE inbox (
  seq INTEGER PRIMARY KEY AUTOINCREMENT, update_id INTEGER NOT NULL, origin_chat INTEGER NOT NULL, message_id INTEGER NOT NULL,
  key TEXT NOT NULL UNIQUE, raw BLOB NOT NULL, received TEXT NOT NULL,
  state TEXT NOT NULL DEFAULT 'new' CHECK (state IN ('new','done','kept','parked')), attempts INTEGER NOT NULL DEFAULT 0, why TEXT NOT NULL DEFAULT ''
) STRICT;
CREATE TABLE invite (
  hash BLOB PRIMARY KEY, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE, kind TEXT NOT NULL, expires TEXT NOT NULL, by_member INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE subject (
  book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE, kind TEXT NOT NULL, n INTEGER NOT NULL, next_due TEXT CHECK (length(next_due) = 24),
  PRIMARY KEY (book, kind, n)
) STRICT, WITHOUT ROWID;
CREATE TABLE said (
  id INTEGER PRIMARY KEY, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE,
  rule TEXT NOT NULL, kind TEXT NOT NULL, n INTEGER NOT NULL, anchor INTEGER NOT NULL, occurrence INTEGER NOT NULL,
  made TEXT NOT NULL, due TEXT NOT NULL, answered TEXT, answer TEXT NOT NULL DEFAULT '', snoozed TEXT,
  muted INTEGER NOT NULL DEFAULT 0, outbox INTEGER NOT NULL DEFAULT 0,
  UNIQUE (book, kind, n, rule, anchor, occurrence)
) STRICT;
CREATE TABLE forecast (
  book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE, batch INTEGER NOT NULL, entry INTEGER NOT NULL, blob BLOB NOT NULL,
  PRIMARY KEY (book, batch)
) STRICT, WITHOUT ROWID;
CREATE TABLE photo (
  id INTEGER PRIMARY KEY, book INTEGER NOT NULL REFERENCES book(id) ON DELETE CASCADE, batch INTEGER NOT NULL, message INTEGER NOT NULL,
  file_id TEXT NOT NULL, file_unique TEXT NOT NULL, jpeg BLOB, barcode TEXT NOT NULL DEFAULT '', at TEXT NOT NULL
) STRICT;
INSERT INTO goose_db_version (id,version_id,is_applied,tstamp) VALUES (1,0,1,'2026-11-28 12:00:35');
INSERT INTO goose_db_version (id,version_id,is_applied,tstamp) VALUES (2,1,1,'2026-11-28 12:00:35');
INSERT INTO goose_db_version (id,version_id,is_applied,tstamp) VALUES (3,2,1,'2026-11-28 12:00:35');
INSERT INTO goose_db_version (id,version_id,is_applied,tstamp) VALUES (4,3,1,'2026-11-28 12:00:35');
DELETE FROM sqlite_sequence;
INSERT INTO sqlite_sequence (name,seq) VALUES ('goose_db_version',4);
INSERT INTO sqlite_sequence (name,seq) VALUES ('book',2);
INSERT INTO sqlite_sequence (name,seq) VALUES ('member',3);
INSERT INTO sqlite_sequence (name,seq) VALUES ('chat',3);
INSERT INTO sqlite_sequence (name,seq) VALUES ('message',2);
INSERT INTO sqlite_sequence (name,seq) VALUES ('entry',3);
INSERT INTO sqlite_sequence (name,seq) VALUES ('outbox',1);
INSERT INTO book (id,name,created,claimed) VALUES (1,'north','2026-10-13T12:00:00.000Z',0);
INSERT INTO book (id,name,created,claimed) VALUES (2,'south','2026-10-13T12:00:00.000Z',0);
INSERT INTO member (id,book,name,keeper,host,platform_user,joined,gone,via) VALUES (1,1,'nora',1,1,71,'2026-10-13T12:00:00.000Z',NULL,0);
INSERT INTO member (id,book,name,keeper,host,platform_user,joined,gone,via) VALUES (2,1,'tom',0,0,72,'2026-10-13T12:00:00.000Z',NULL,0);
INSERT INTO member (id,book,name,keeper,host,platform_user,joined,gone,via) VALUES (3,2,'eve',1,0,73,'2026-10-13T12:00:00.000Z',NULL,0);
INSERT INTO chat (id,book,platform,platform_id,kind,title,member,admitted,silent,hidden) VALUES (1,1,'script',-1,'group','Cellar',0,1,0,0);
INSERT INTO chat (id,book,platform,platform_id,kind,title,member,admitted,silent,hidden) VALUES (2,1,'script',71,'private','',1,1,0,0);
INSERT INTO chat (id,book,platform,platform_id,kind,title,member,admitted,silent,hidden) VALUES (3,2,'script',-2,'group','Shed',0,1,0,0);
INSERT INTO message (id,book,chat,member,origin_chat,platform_message,text,at,edited,reply_to,thread,kind) VALUES (1,1,1,1,-1,1,'sg 1.074','2026-10-13T12:00:00.000Z',NULL,0,0,'text');
INSERT INTO message (id,book,chat,member,origin_chat,platform_message,text,at,edited,reply_to,thread,kind) VALUES (2,1,1,1,-1,2,'sg 1.049','2026-10-17T12:00:00.000Z',NULL,0,0,'text');
INSERT INTO batch (book,n,created) VALUES (1,1,'2026-10-13T12:00:00.000Z');
INSERT INTO batch (book,n,created) VALUES (2,1,'2026-10-13T12:00:00.000Z');
INSERT INTO entry (id,root,book,batch,message,ordinal,quantity,value,unit,typed,deed,material,basis,done_by,text,instrument,type,key,other,of_root,approx,at,day_only,author,author_name,typed_at,void,supersedes,live) VALUES (1,1,1,1,1,0,'sg',1.074,'sg','1.074','','','','','','','','',0,0,0,'2026-10-13T12:00:00.000Z',0,1,'nora','2026-10-13T12:00:00.000Z',0,0,1);
INSERT INTO entry (id,root,book,batch,message,ordinal,quantity,value,unit,typed,deed,material,basis,done_by,text,instrument,type,key,other,of_root,approx,at,day_only,author,author_name,typed_at,void,supersedes,live) VALUES (2,2,1,1,2,0,'sg',1.049,'sg','1.049','','','','','','','','',0,0,0,'2026-10-17T12:00:00.000Z',0,1,'nora','2026-10-17T12:00:00.000Z',0,0,0);
INSERT INTO entry (id,root,book,batch,message,ordinal,quantity,value,unit,typed,deed,material,basis,done_by,text,instrument,type,key,other,of_root,approx,at,day_only,author,author_name,typed_at,void,supersedes,live) VALUES (3,2,1,1,2,0,'sg',1.026,'sg','1.026','','','','','','','','',0,0,0,'2026-10-17T12:00:00.000Z',0,1,'nora','2026-10-17T12:00:00.000Z',0,2,1);
INSERT INTO outbox (id,book,chat,source,kind,text,html,reply_to,thread,edits,reaction,render,plain,batch,message,priority,state,not_before,created,sent,platform_message,tries,why,buttons) VALUES (1,1,1,'m1/1','reply','damson: 1.074',0,0,0,0,'','',0,0,1,0,'due','2026-10-13T12:00:00.000Z','2026-10-13T12:00:00.000Z',NULL,0,0,'','[{"key":"00000001ABUVO1P1G9IKU5HVBS7G","label":"Undo","action":"{}","expires":"2026-11-13T12:00:00.000Z"}]');
CREATE INDEX member_book ON member(book);
CREATE INDEX member_user ON member(platform_user) WHERE platform_user <> 0;
CREATE INDEX chat_book ON chat(book);
CREATE INDEX message_member ON message(book, member, at);
CREATE INDEX message_edit_of ON message_edit(message);
CREATE INDEX entry_root ON entry(root, id);
CREATE INDEX entry_message ON entry(message, ordinal);
CREATE UNIQUE INDEX entry_once ON entry(message, ordinal) WHERE supersedes = 0 AND message <> 0;
CREATE INDEX question_message ON question(book, message);
CREATE INDEX outbox_due ON outbox(priority, id) WHERE state = 'due';
CREATE INDEX outbox_sending ON outbox(id) WHERE state = 'sending';
CREATE INDEX outbox_chat ON outbox(chat, id);
CREATE INDEX outbox_platform ON outbox(chat, platform_message) WHERE platform_message <> 0;
CREATE INDEX outbox_message ON outbox(message, id) WHERE message <> 0;
CREATE INDEX inbox_new ON inbox(seq) WHERE state = 'new';
CREATE INDEX inbox_done ON inbox(received) WHERE state = 'done';
CREATE INDEX subject_due ON subject(next_due) WHERE next_due IS NOT NULL;
CREATE INDEX photo_batch ON photo(book, batch);
CREATE INDEX photo_fetch ON photo(id) WHERE jpeg IS NULL;
CREATE INDEX entry_book ON entry(book, batch, id, live, root, message, ordinal, quantity, value, unit, typed, deed, material,
  basis, done_by, text, instrument, type, key, other, of_root, approx, at, day_only, author, author_name, typed_at);
