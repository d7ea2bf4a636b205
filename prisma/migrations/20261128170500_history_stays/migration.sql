-- What happened stays: lines of the history and of the audit are added, never changed or erased. There are two ways
-- around it, and each says within its own transaction which co-op it is about: a co-op that is deleted takes its lines
-- along, and of somebody who left the name is taken out of them, so that nothing but who and what may change.
CREATE FUNCTION "history_stays"() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' THEN
    IF OLD."coopId" = current_setting('glutworks.coop_deleted', true) THEN
      RETURN OLD;
    END IF;
  ELSIF OLD."coopId" = current_setting('glutworks.name_erased', true)
    AND to_jsonb(NEW) - '{who,what}'::text[] = to_jsonb(OLD) - '{who,what}'::text[] THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION 'what happened stays in the history: a line of it is never changed or erased';
END $$;
CREATE TRIGGER "Change_stays" BEFORE UPDATE OR DELETE ON "Change"
  FOR EACH ROW EXECUTE FUNCTION "history_stays"();
CREATE TRIGGER "SecurityEvent_stays" BEFORE UPDATE OR DELETE ON "SecurityEvent"
  FOR EACH ROW EXECUTE FUNCTION "history_stays"();
