-- What was used is looked up entry by entry, by its key. As a part of the statement that adds it up, it was planned with
-- it: on an empty shelf, once for each session, so that later it went through all lines of all batches for each entry.
-- A function with settings of its own is not planned as a part of another statement.
ALTER FUNCTION "shelf_use_of"("ShelfEntry") SET enable_seqscan = off SET enable_hashjoin = off
  SET enable_mergejoin = off SET jit = off;
