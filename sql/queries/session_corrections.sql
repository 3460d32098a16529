-- session_corrections: answers of one session that were corrected, or changed by whoever gave them, glasses
--                      and samples set aside or put back, in the order of recording.
-- Purpose: an auditor sees the old answer, the new one, who, when and why; a glass that its own person
--          had set aside has no reason, nor has an answer changed on the own phone before the close.
-- Params:  $session_id
-- Grain:   one row per correction, change, set-aside or return.
-- Used by: steps.session_changes

with in_set as (
    select serving_id, string_agg(blind_code, '/' order by place) as codes
    from set_glass
    group by serving_id
),

glass as (
    select
        serving.serving_id,
        coalesce(in_set.codes, blind_code, position::varchar, '') as code,
        person_id
    from serving
    join sample using (sample_id)
    join sitting using (sitting_id)
    left join in_set using (serving_id)
    where session_id = $session_id
),

said as (
    select
        serving_id,
        entry_no,
        coalesce('picked ' || set_pick.blind_code, words, trimmed, kind)        as said,
        lag(coalesce('picked ' || set_pick.blind_code, words, trimmed, kind))
            over (partition by serving_id order by entry_no)                           as said_before,
        phone_answer.entry_no is not null                                              as is_by_phone,
        coalesce(', ' || sureness, '')                                                 as sureness,
        lag(coalesce(', ' || sureness, ''))
            over (partition by serving_id order by entry_no)                           as sureness_before
    from (select *, rtrim(rtrim(rating::varchar, '0'), '.') as trimmed from answer) as answer
    left join set_pick using (serving_id, entry_no)
    left join phone_answer using (serving_id, entry_no)
    where serving_id in (select serving_id from glass)
),

changes as (
    select
        correction.entry_no, correction.recorded_at, 'corrected' as kind, glass.code, glass.person_id,
        said_before, said, reason
    from correction
    join glass using (serving_id)
    join said on said.serving_id = correction.serving_id and said.entry_no = correction.entry_no
    union all
    select
        said.entry_no, answer.recorded_at, 'changed', glass.code, glass.person_id,
        said_before || sureness_before, said || said.sureness, null
    from said
    join answer using (serving_id, entry_no)
    join glass using (serving_id)
    where is_by_phone and said_before is not null
    union all
    select
        set_aside.entry_no, set_aside.recorded_at, if(is_aside, 'set aside', 'put back'), glass.code,
        glass.person_id, null, null, reason
    from set_aside
    join glass using (serving_id)
    union all
    select
        sample_aside.entry_no, sample_aside.recorded_at, if(is_aside, 'set aside', 'put back'),
        'jug ' || mark || ', ' || sitting.label, null, null, null, reason
    from sample_aside
    join sample using (sample_id)
    join sitting using (sitting_id)
    where session_id = $session_id
)

select changes.*, known_person.person_id as whose, signed.person_id as signed_by
from changes
left join author using (entry_no)
left join known_person on known_person.spelled_id = changes.person_id
left join known_person as signed on signed.spelled_id = author.person_id
order by entry_no, code;
