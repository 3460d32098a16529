-- ballot_seat: whose ballot a link opens, and how the sitting and its session stand.
-- Purpose: own_word tells whether the person themselves said last where they are; sits_elsewhere,
--          whether another sitting of the session has glasses for them and expects them.
-- Params:  $link_digest
-- Grain:   one row, or none if no link that holds has this digest.
-- Used by: steps.ballot_seats

with held as (
    select * from known_link where link_digest = $link_digest
),

told as (
    select sitting_person.state, author.person_id is not null as is_own
    from sitting_person
    join known_person on known_person.spelled_id = sitting_person.person_id
    join held on held.sitting_id = sitting_person.sitting_id
        and held.person_id = known_person.person_id
    left join author on author.entry_no = sitting_person.entry_no
        and author.person_id = sitting_person.person_id
    order by sitting_person.entry_no desc
    limit 1
),

elsewhere as (
    select distinct sample.sitting_id
    from held
    join sitting as own on own.sitting_id = held.sitting_id
    join sitting as other on other.session_id = own.session_id and other.sitting_id <> own.sitting_id
    join sample on sample.sitting_id = other.sitting_id
    join serving using (sample_id)
    join known_person on known_person.spelled_id = serving.person_id
        and known_person.person_id = held.person_id
    left join known_seated on known_seated.sitting_id = other.sitting_id
        and known_seated.person_id = held.person_id
    where coalesce(known_seated.state, 'expected') <> 'absent'
)

select
    held.link_digest,
    held.sitting_id,
    held.person_id,
    held.expires_at,
    sitting.session_id,
    session.session_on,
    plan.spits,
    plan.alcohol_limit_g,
    plan.has_control,
    spelling                                          as name,
    coalesce(language, 'en')                          as language,
    (
        select arg_max(starts_at, entry_no)
        from sitting_time
        where sitting_time.sitting_id = held.sitting_id
    )                                                 as starts_at,
    coalesce((
        select arg_max(is_over, entry_no)
        from sitting_over
        where sitting_over.sitting_id = held.sitting_id
    ), false)                                         as is_over,
    session_end.how,
    coalesce((select state from told), 'expected')    as state,
    coalesce((select is_own from told), false)        as own_word,
    exists (select 1 from elsewhere)                  as sits_elsewhere,
    coalesce(is_panellist, true)                      as is_panellist,
    sitting.session_id in (select session_id from release_session)   as is_release,
    held.sitting_id in (select sitting_id from known_talk)           as is_talk
from held
join sitting using (sitting_id)
join session using (session_id)
join plan using (session_id)
join person_name using (person_id)
left join session_end using (session_id)
left join known_panellist using (person_id)
left join known_language using (person_id);
