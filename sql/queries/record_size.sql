-- record_size: how much is on record.
-- Params:  (none)
-- Grain:   one row.
-- Used by: steps.safekeeping

select
    (select count(*) from known_person where spelled_id = person_id) as people,
    (select count(*) from session)                                 as sessions,
    (select count(*) from known_answer)                            as answers,
    (select max(session_on) from attendance)                       as last_on;
