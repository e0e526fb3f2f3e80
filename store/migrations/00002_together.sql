-- +goose Up
-- What a household entered lies together in this index, with all that is asked of it: in
-- the table each row stands where it was written, among those of all other households, and
-- one that was long silent would be read from as many places of the disk as it has entries.
CREATE INDEX entry_book ON entry(book, batch, id, live, root, message, ordinal, quantity, value, unit, typed, deed, material,
  basis, done_by, text, instrument, type, key, other, of_root, approx, at, day_only, author, author_name, typed_at);
-- It begins like this one.
DROP INDEX entry_batch;
