-- results: takes checked rows into the record, all or none.
-- Purpose: names what is new by digests of what it is, so that the same row twice is one fact.
-- Reads:   temp table incoming (see store/results.py), variables entry_no and recorded_at
-- Writes:  session, sitting, sample, serving, answer, set_aside, remark
-- Used by: store.results.record_results

create or replace temp table identified as

with sittings as (
    select
        *,
        left(sha256(concat_ws(chr(31), 'session', session_on, session)), 16) as session_id,
        left(sha256(concat_ws(chr(31), 'sitting', session_on, session, sitting)), 16)
            as sitting_id
    from incoming
),

samples as (
    select
        *,
        left(sha256(concat_ws(
            chr(31), sitting_id, beer, coalesce(compound, ''), coalesce(given_level::varchar, ''),
            coalesce(dose_ug::varchar, ''), coalesce(volume_ml::varchar, ''), mark
        )), 16) as sample_id
    from sittings
),

numbered as (
    select
        *,
        row_number() over (partition by sample_id, person_id, method order by line) as nth
    from samples
)

select
    *,
    left(sha256(concat_ws(chr(31), sitting_id, person_id, method, coalesce(
        'code ' || blind_code, 'position ' || position, sample_id || ' ' || nth
    ))), 16) as serving_id
from numbered;

create or replace temp table added as
select * from identified
where serving_id not in (select serving_id from serving);

insert into session
select distinct session_id, session_on, session, getvariable('entry_no'), getvariable('recorded_at')
from added
where session_id not in (select session_id from session);

insert into sitting
select distinct sitting_id, session_id, sitting, getvariable('entry_no'), getvariable('recorded_at')
from added
where sitting_id not in (select sitting_id from sitting);

insert into sample
select distinct
    sample_id, sitting_id, beer, compound, given_level, dose_ug, volume_ml, mark,
    getvariable('entry_no'), getvariable('recorded_at')
from added
where sample_id not in (select sample_id from sample);

insert into serving
select
    serving_id, sample_id, person_id, method, position, blind_code, duplicate_mark,
    getvariable('entry_no'), getvariable('recorded_at')
from added;

insert into answer
select
    serving_id, kind, words, words_key, words_salt,
    case when words is not null then sha256(words_salt || words) end, rating,
    getvariable('entry_no'), getvariable('recorded_at')
from added;

insert into set_aside
select
    serving_id, true, set_aside, words_salt, sha256(words_salt || set_aside),
    getvariable('entry_no'), getvariable('recorded_at')
from added
where set_aside is not null;

insert into remark
select
    serving_id, note, words_salt, sha256(words_salt || note),
    getvariable('entry_no'), getvariable('recorded_at')
from added
where note is not null;
