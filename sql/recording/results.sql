-- results: takes checked rows into the record, all or none.
-- Purpose: names what is new by digests of what it is, so that the same row twice is one fact:
--          sessions and sittings by their folded labels, servings by the person somebody stands for.
-- Note:    a glass on record may be set aside by a later file; nothing else about it changes.
-- Reads:   incoming_rows (text columns, see store/results.py), variables entry_no and recorded_at
-- Writes:  session, sitting, sample, serving, answer, set_aside, remark
-- Used by: store.results.record_results

create or replace temp table incoming as

with typed as (
    select
        line::integer               as line,
        session_on::date            as session_on,
        session,
        sitting,
        session_key,
        sitting_key,
        person_id,
        identity_id,
        method,
        position::integer           as position,
        blind_code,
        duplicate_mark,
        beer,
        compound,
        given_level::decimal(18, 9) as given_level,
        dose_ug::decimal(18, 9)     as dose_ug,
        volume_ml::decimal(18, 9)   as volume_ml,
        mark,
        kind,
        words,
        words_key,
        words_salt,
        rating::decimal(18, 9)      as rating,
        set_aside,
        note
    from incoming_rows
),

samples as (
    select distinct
        session_on, session_key, sitting_key, beer, compound, given_level, dose_ug, volume_ml, mark
    from typed
),

named as (
    select
        *,
        left(sha256(concat_ws(chr(31), 'session', session_on, session_key)), 16) as session_id,
        left(sha256(concat_ws(chr(31), 'sitting', session_on, session_key, sitting_key)), 16)
            as sitting_id,
        left(sha256(concat_ws(
            chr(31), 'sample', session_on, session_key, sitting_key, beer, coalesce(compound, ''),
            coalesce(given_level::varchar, ''), coalesce(dose_ug::varchar, ''),
            coalesce(volume_ml::varchar, ''), mark
        )), 16) as sample_id
    from samples
),

placed as (
    select typed.*, session_id, sitting_id, sample_id
    from typed
    join named
        on  typed.session_on = named.session_on
        and typed.session_key = named.session_key
        and typed.sitting_key = named.sitting_key
        and typed.beer = named.beer
        and typed.mark = named.mark
        and typed.compound is not distinct from named.compound
        and typed.given_level is not distinct from named.given_level
        and typed.dose_ug is not distinct from named.dose_ug
        and typed.volume_ml is not distinct from named.volume_ml
),

numbered as (
    select *, '' as nth
    from placed
    where blind_code is not null or position is not null
    union all
    select
        *,
        row_number() over (partition by sample_id, identity_id, method order by line)::varchar as nth
    from placed
    where blind_code is null and position is null
)

select
    *,
    left(sha256(concat_ws(chr(31), sitting_id, identity_id, method, coalesce(
        'code ' || blind_code, 'position ' || position, sample_id || ' ' || nth
    ))), 16) as serving_id,
    serving_id not in (select serving_id from serving) as is_new
from numbered;

insert into session
select
    session_id, session_on, min(session), getvariable('entry_no'), getvariable('recorded_at')
from incoming
where is_new and session_id not in (select session_id from session)
group by session_id, session_on;

insert into sitting
select
    sitting_id, session_id, min(sitting), getvariable('entry_no'), getvariable('recorded_at')
from incoming
where is_new and sitting_id not in (select sitting_id from sitting)
group by sitting_id, session_id;

insert into sample
select distinct
    sample_id, sitting_id, beer, compound, given_level, dose_ug, volume_ml, mark,
    getvariable('entry_no'), getvariable('recorded_at')
from incoming
where is_new and sample_id not in (select sample_id from sample);

insert into serving
select
    serving_id, sample_id, person_id, method, position, blind_code, duplicate_mark,
    getvariable('entry_no'), getvariable('recorded_at')
from incoming
where is_new;

insert into answer
select
    serving_id, kind, words, words_key, case when words is not null then words_salt end,
    case when words is not null then sha256(words_salt || words) end, rating,
    getvariable('entry_no'), getvariable('recorded_at')
from incoming
where is_new;

insert into set_aside
select
    serving_id, true, set_aside, words_salt, sha256(words_salt || set_aside),
    getvariable('entry_no'), getvariable('recorded_at')
from incoming
where set_aside is not null
  and (is_new or serving_id not in (select serving_id from known_aside));

insert into remark
select
    serving_id, note, words_salt, sha256(words_salt || note),
    getvariable('entry_no'), getvariable('recorded_at')
from incoming
where is_new and note is not null;
