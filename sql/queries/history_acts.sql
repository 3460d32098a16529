-- history_acts: every act of recording with its author, where somebody signed, newest first.
-- Params:  (none)
-- Grain:   one row per history entry.
-- Used by: steps.history_lines

with signed as (
    select entry_no, person_id from author
    union all
    select entry_no, min(signed_by) as person_id
    from decision
    where entry_no not in (select entry_no from author)
    group by entry_no
)

select
    history.entry_no,
    history.recorded_at,
    history.kind,
    history.facts,
    history.digest,
    coalesce(known_person.person_id, '') as author_id,
    coalesce(spelling, '')               as author
from history
cross join known_moment
left join signed using (entry_no)
left join known_person on known_person.spelled_id = signed.person_id
left join person_name on person_name.person_id = known_person.person_id
where history.recorded_at <= known_at
order by history.entry_no desc;
