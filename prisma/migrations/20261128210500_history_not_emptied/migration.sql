-- The ledger of the shelf, the history and the audit are not emptied either: triggers that look at rows do not see a
-- TRUNCATE. Nothing of the service empties them: restoring drops the tables and makes them anew, and a co-op that is
-- deleted takes its lines along row by row. A table that is emptied with another one (CASCADE) is held likewise.
CREATE FUNCTION "history_not_emptied"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION 'what happened stays: % is never emptied', TG_TABLE_NAME;
END $$;
CREATE TRIGGER "Change_not_emptied" BEFORE TRUNCATE ON "Change"
  FOR EACH STATEMENT EXECUTE FUNCTION "history_not_emptied"();
CREATE TRIGGER "SecurityEvent_not_emptied" BEFORE TRUNCATE ON "SecurityEvent"
  FOR EACH STATEMENT EXECUTE FUNCTION "history_not_emptied"();
CREATE TRIGGER "ShelfEntry_not_emptied" BEFORE TRUNCATE ON "ShelfEntry"
  FOR EACH STATEMENT EXECUTE FUNCTION "history_not_emptied"();
