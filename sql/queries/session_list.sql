-- session_list: every session, with how many glasses were poured and answered in it.
-- Params:  (none)
-- Grain:   one row per session, the newest day first.
-- Used by: steps.sessions, steps.shelf

with poured as (
    select
        sitting.session_id,
        count(*)                                                             as glasses,
        count(known_answer.serving_id)                                       as answered,
        count(*) filter (
            where known_answer.serving_id is null
              and coalesce(known_glass_event.kind, '') <> 'spilled'
              and coalesce(known_seated.state, 'expected') not in ('left', 'absent')
        )                                                                    as waiting,
        count(distinct known_person.person_id)                               as people
    from serving
    join known_person on known_person.spelled_id = serving.person_id
    join sample using (sample_id)
    join sitting using (sitting_id)
    left join known_answer using (serving_id)
    left join known_glass_event using (serving_id)
    left join known_seated
        on  known_seated.sitting_id = sitting.sitting_id
        and known_seated.person_id = known_person.person_id
    group by sitting.session_id
),

sittings as (
    select
        sitting.session_id,
        count(*)                                                     as sittings,
        count(*) filter (where coalesce(over.is_over, false))        as sittings_over,
        min(times.starts_at)                                         as starts_at
    from sitting
    left join (
        select sitting_id, arg_max(is_over, entry_no) as is_over
        from sitting_over group by sitting_id
    ) as over using (sitting_id)
    left join (
        select sitting_id, arg_max(starts_at, entry_no) as starts_at
        from sitting_time group by sitting_id
    ) as times using (sitting_id)
    group by sitting.session_id
)

select
    session.session_id,
    session.session_on,
    session.label,
    plan.purpose,
    session.session_id in (select session_id from release_session) as is_release,
    session_end.how,
    coalesce(people, 0)   as people,
    coalesce(glasses, 0)  as glasses,
    coalesce(answered, 0) as answered,
    coalesce(waiting, 0)  as waiting,
    sittings,
    sittings_over,
    starts_at
from session
join sittings using (session_id)
left join poured using (session_id)
left join plan using (session_id)
left join session_end using (session_id)
order by session_on desc, starts_at desc nulls last, session.label;
