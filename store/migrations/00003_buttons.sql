-- +goose Up
-- The buttons of an answer stand in its row, as JSON. A row each, with two indexes of its
-- own, was a seventh of what a message writes, and nobody asks for one without its answer,
-- whose number its key begins with.
ALTER TABLE outbox ADD COLUMN buttons TEXT NOT NULL DEFAULT '';
UPDATE outbox SET buttons = (
  SELECT json_group_array(json_object('key', b.key, 'label', b.label, 'action', CAST(b.action AS TEXT), 'expires', b.expires) ORDER BY b.ordinal)
  FROM button b WHERE b.outbox = outbox.id)
WHERE id IN (SELECT outbox FROM button);
DROP TABLE button;

-- It served the rare undo of what somebody else wrote, which may look through the
-- household's messages; each message wrote a page of it.
DROP INDEX message_book;
