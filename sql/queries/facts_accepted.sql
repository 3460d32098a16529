-- facts_accepted: words accepted for several compounds that a seat of one panellist rests on, as canonical
--                 text.
-- Purpose: stands beside the lines of "facts" in the third form of the text; where none of the own words
--          is accepted for anything there is no line, and the other forms hold. The words themselves
--          stay out. What the beer may explain is decided for each of these compounds, so the thresholds
--          and backgrounds of all of them belong to it.
-- Params:  $person_id, $until_on
-- Grain:   one row per fact, sorted by its text.
-- Used by: steps.facts_text

with said as (
    select serving_id, words_digest, compound, beer
    from known_serving
    join known_answer using (serving_id)
    join known_accepted using (words_key)
    join known_person on known_person.spelled_id = known_serving.person_id
    join (select sample_id, sitting_id, beer from sample) using (sample_id)
    join sitting using (sitting_id)
    join session using (session_id)
    where known_person.person_id = $person_id
      and kind = 'words'
      and session_on <= $until_on
      and session_id not in (select session_id from known_open_session)
      and sample_id not in (select sample_id from unknown_sample)
),

fact as (
    select 'accepted' as what, [serving_id, words_digest, compound] as parts
    from said

    union all
    select 'threshold of accepted', [compound, family, valid_from_on::varchar, threshold_ug_l::varchar]
    from known_threshold
    where valid_from_on <= $until_on and compound in (select compound from said)

    union all
    select 'background of accepted', [
        beer, compound, valid_from_on::varchar, known, background_ug_l::varchar
    ]
    from known_background
    where valid_from_on <= $until_on and (beer, compound) in (select (beer, compound) from said)
)

select array_to_string(list_prepend(what, list_transform(parts, lambda part: coalesce(part, chr(30)))), chr(31))
    as fact
from fact
order by fact;
