-- facts: everything on record that a seat of one panellist rests on, as canonical text.
-- Purpose: a decision keeps the digest over these lines, so that it can be shown again what it rested
--          on. Amounts are decimals and nothing is worked out, so the text is the same for ever; own
--          words enter as their salted digest. Sessions of others count for attendance; ratings of
--          others only where the panellist rated the same sample. A batch that was judged for its
--          release is no fact of anybody's seat.
-- Params:  $person_id, $until_on
-- Grain:   one row per fact, sorted by its text.
-- Used by: steps.facts_text

with own as (
    select
        known_serving.*,
        known_answer.kind,
        known_answer.words_digest,
        known_answer.rating,
        known_meaning.compound as named_compound,
        known_meaning.words_key is not null as is_explained
    from known_serving
    join known_answer using (serving_id)
    join known_person on known_person.spelled_id = known_serving.person_id
    left join known_meaning using (words_key)
    where known_person.person_id = $person_id
),

placed as (
    select own.*, sample.*exclude (sample_id, sitting_id, mark, entry_no, recorded_at),
        sitting.sitting_id, session.session_id, session.session_on,
        coalesce(known_beer.family, 'house') as family,
        actual_level, age_minutes
    from own
    join sample using (sample_id)
    join sitting using (sitting_id)
    join session using (session_id)
    left join known_beer using (beer)
    left join known_sample_state using (sample_id)
    where session_on <= $until_on
      and session_id not in (select session_id from known_open_session)
      and sample_id not in (select sample_id from unknown_sample)
),

touched as (
    select compound from placed where compound is not null
    union
    select named_compound from placed where named_compound is not null
),

fact as (
    select 'spelling' as what, [spelled_id] as parts
    from known_person
    where person_id = $person_id

    union all
    select 'glass', [
        serving_id, sample_id, sitting_id, session_id, session_on::varchar, beer, family, compound,
        given_level::varchar, dose_ug::varchar, volume_ml::varchar, actual_level::varchar,
        age_minutes::varchar, method, duplicate_mark, kind, words_digest, is_explained::varchar,
        named_compound, rating::varchar,
        (serving_id in (select serving_id from known_aside))::varchar,
        ((session_id, $person_id) in (select (session_id, person_id) from known_own_preparation))
            ::varchar
    ]
    from placed

    union all
    select 'rating of the same sample', [known_serving.sample_id, serving_id, known_answer.rating::varchar]
    from known_serving
    join known_answer using (serving_id)
    join known_person on known_person.spelled_id = known_serving.person_id
    join sample on sample.sample_id = known_serving.sample_id
    join sitting using (sitting_id)
    where known_answer.rating is not null
      and serving_id not in (select serving_id from known_aside)
      and known_serving.sample_id in (select sample_id from placed where rating is not null)
      and (session_id, known_person.person_id) not in (
          select (session_id, person_id) from known_own_preparation
      )

    union all
    select distinct 'session held', [session_id, session_on::varchar]
    from attendance
    where session_on <= $until_on and not is_release

    union all
    select 'threshold', [compound, family, valid_from_on::varchar, threshold_ug_l::varchar]
    from known_threshold
    where valid_from_on <= $until_on and compound in (select compound from touched)

    union all
    select 'background', [beer, compound, valid_from_on::varchar, known, background_ug_l::varchar]
    from known_background
    where valid_from_on <= $until_on
      and compound in (select compound from touched)
      and beer in (select beer from placed)

    union all
    select 'keeping', [compound, valid_from_on::varchar, half_life_h::varchar]
    from known_keeping
    where valid_from_on <= $until_on and compound in (select compound from touched)

    union all
    select 'family', [family, item_no::varchar, compound, role]
    from known_family_compound
)

select array_to_string(list_prepend(what, list_transform(parts, lambda part: coalesce(part, chr(30)))), chr(31))
    as fact
from fact
order by fact;
