-- known_*: batches, talks and what was found, as they stood at one moment.
-- Grain:   known_batch and known_release one row per batch and release session; known_crew one row per
--          batch x person of the crew that made it; known_talk one row per sitting whose talk is open;
--          known_talk_answer one row per serving answered after the talk; known_share one row per beer
--          family x what it may have; known_outcome one row per weighed call of which the truth is known.
-- Reads:   the tables of 10_release, known_person
-- Used by: queries/batches, queries/batch_crew

create or replace view known_batch as
select batch_id, label, beer, entry_no
from batch
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity');

create or replace view known_crew as
select batch_id, known_person.person_id
from batch_crew
join known_person on known_person.spelled_id = batch_crew.person_id
where batch_crew.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by batch_id, known_person.person_id
having arg_max(is_crew, batch_crew.entry_no);

create or replace view known_release as
select session_id
from release_session
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity');

create or replace view known_talk as
select sitting_id
from talk
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by sitting_id
having arg_max(is_open, entry_no);

create or replace view known_talk_answer as
select
    serving_id,
    arg_max(kind, entry_no)           as kind,
    arg_max_null(words, entry_no)     as words,
    arg_max_null(words_key, entry_no) as words_key
from talk_answer
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by serving_id;

create or replace view known_share as
select family, what, arg_max(share, entry_no) as share
from beer_share
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by family, what;

create or replace view known_outcome as
select
    weighing_id,
    arg_max(what, entry_no)        as what,
    arg_max(how, entry_no)         as how,
    arg_max_null(remark, entry_no) as remark,
    max(entry_no)                  as entry_no
from call_outcome
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by weighing_id;
