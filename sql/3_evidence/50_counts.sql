-- cell_count: how often each panellist was served each compound, and with what result.
-- Grain:   one row per panellist x compound x beer family x day; pairs never served are absent.
-- Reads:   naming_glass
-- Used by: queries/cell_counts

create or replace view cell_count as
select
    person_id,
    compound,
    family,
    session_on,
    count(*)                                  as glasses,
    count(*) filter (where outcome = 'right')  as hits,
    count(*) filter (where outcome = 'missed') as misses,
    count(*) filter (where outcome = 'wrong')  as wrong_names,
    count(*) filter (where outcome in ('noticed', 'open')) as names_open
from naming_glass
group by person_id, compound, family, session_on;


-- wrong_name: which name was given instead.
-- Grain:   one row per panellist x compound served x compound said x day; said is null for nothing.
-- Reads:   naming_glass
-- Used by: queries/mixups

create or replace view wrong_name as
select
    person_id,
    family,
    session_on,
    compound,
    named_compound,
    outcome,
    count(*) as glasses
from naming_glass
where outcome in ('wrong', 'missed')
group by person_id, family, session_on, compound, named_compound, outcome;


-- duplicate_pair: one sample poured twice to one person without saying so.
-- Purpose: a pair agrees when both glasses were named right, or neither; that is what the person's
--          own rate of right names foretells, so the two can be compared.
--          Only glasses of what was really one sample are a pair, so a swapped glass is none.
-- Grain:   one row per panellist x sitting x duplicate mark with two or more answered glasses.
-- Reads:   scored_answer
-- Used by: queries/duplicate_pairs

create or replace view duplicate_pair as
select
    person_id,
    sitting_id,
    session_on,
    duplicate_mark,
    any_value(family)                                        as family,
    any_value(compound)                                      as compound,
    count(distinct outcome = 'right') = 1                    as is_agreed
from scored_answer
where method = 'naming' and duplicate_mark is not null
group by person_id, sitting_id, session_on, duplicate_mark, sample_id
having count(*) >= 2;


-- attendance: who came to which session.
-- Purpose: a session counts once it is closed; glasses that count for nothing show presence too. To a
--          release sitting a few are asked, so it is nobody's absence and is marked.
-- Grain:   one row per panellist x session with an answer of any kind.
-- Reads:   known_serving, sample, sitting, session, known_answer, known_person, known_open_session,
--          known_release
-- Used by: queries/attendance

create or replace view attendance as
select distinct
    known_person.person_id,
    session.session_id,
    session.session_on,
    session.session_id in (select session_id from known_release) as is_release
from known_serving
join known_answer using (serving_id)
join known_person on known_person.spelled_id = known_serving.person_id
join sample using (sample_id)
join sitting using (sitting_id)
join session using (session_id)
where session.session_id not in (select session_id from known_open_session);
