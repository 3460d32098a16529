-- known_set_pick: which glass of a forced-choice set was picked last.
-- Grain:   one row per answered set of a planned session.
-- Reads:   set_pick
-- Used by: queries/session_glasses

create or replace view known_set_pick as
select serving_id, arg_max(blind_code, entry_no) as blind_code
from set_pick
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by serving_id;
