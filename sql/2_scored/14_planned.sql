-- known_*: planned sessions as they stood at one moment, and what became of their glasses.
-- Purpose: an answer is evidence only once its session is closed, and never while it is set aside, or
--          while the person who prepared it had its codes in their own hands.
-- Grain:   that of the name after known_; of statements about the same thing the last one.
-- Reads:   the tables of 04_sessions and 05_planned, known_person
-- Used by: sample_level, answered_glass, scored_answer, attendance, sql/queries

-- Sessions that a plan opened and nobody has closed; those called off stay among them.
create or replace view known_open_session as
select session_id
from plan
anti join (
    select session_id
    from session_end
    where how = 'closed' and recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
) using (session_id)
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity');

create or replace view known_sample_state as
select
    sample_id,
    arg_max_null(actual_level, entry_no) as actual_level,
    arg_max_null(age_minutes, entry_no)  as age_minutes
from sample_state
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by sample_id;

-- A serving with the sample that was really in the glass.
create or replace view known_serving as
select
    serving.serving_id,
    serving.person_id,
    coalesce(instead.sample_id, serving.sample_id) as sample_id,
    serving.sample_id                              as planned_sample_id,
    serving.method,
    serving.position,
    serving.blind_code,
    serving.duplicate_mark
from serving
left join (
    select serving_id, arg_max(sample_id, entry_no) as sample_id
    from poured_instead
    where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
    group by serving_id
) as instead using (serving_id);

-- With the variable supposed_aside on the cursor, as it would be if those samples were set aside too.
create or replace view known_sample_aside as
select sample_id
from sample_aside
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by sample_id
having arg_max(is_aside, entry_no)
union
select unnest(getvariable('supposed_aside')::varchar[]);

-- Without a reason it was set aside by the person whose glass it is.
create or replace view known_glass_aside as
select serving_id, arg_max_null(reason_digest, entry_no) is null as is_unasked
from set_aside
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by serving_id
having arg_max(is_aside, entry_no);

-- A forced-choice set goes with any of the samples in it.
create or replace view known_aside as
select serving_id from known_glass_aside
union
select serving_id
from known_serving
semi join known_sample_aside using (sample_id)
union
select serving_id
from set_glass
semi join known_sample_aside using (sample_id);

create or replace view known_glass_event as
select serving_id, arg_max(kind, entry_no) as kind
from glass_event
where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by serving_id;

create or replace view known_seated as
select sitting_id, known_person.person_id, arg_max(state, entry_no) as state
from sitting_person
join known_person on known_person.spelled_id = sitting_person.person_id
where sitting_person.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by sitting_id, known_person.person_id;

create or replace view known_preparer as
select session_id, known_person.person_id
from preparer
join known_person on known_person.spelled_id = preparer.person_id
where preparer.recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
group by session_id, known_person.person_id
having arg_max(is_preparer, entry_no);

create or replace view known_recoding as
select session_id, is_recoded, known_person.person_id
from (
    select
        session_id,
        arg_max(is_recoded, entry_no)     as is_recoded,
        arg_max_null(person_id, entry_no) as spelled_id
    from recoding
    where recorded_at <= coalesce(getvariable('known_at')::timestamp, 'infinity')
    group by session_id
)
left join known_person using (spelled_id);

-- Whose own answers don't count: who prepared, in sessions whose codes nobody else put on.
create or replace view known_own_preparation as
select session_id, person_id
from known_preparer
anti join (
    select session_id
    from known_recoding
    anti join known_preparer using (session_id, person_id)
    where is_recoded
) using (session_id);
