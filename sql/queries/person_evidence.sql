-- person_evidence: every answered glass of one panellist with something to smell or a blank, oldest
--                  first, those that count for nothing too.
-- Purpose: an auditor adds up again what a verdict rests on, and sees what was left out and why; a
--          glass set aside by its own person, or put away with its jug, has that said instead of a
--          reason. Glasses of sessions that are not closed are no evidence yet and stay out.
-- Params:  $person_id, $until_on
-- Grain:   one row per answered serving of a closed session.
-- Used by: steps.competence_glasses

with glass_reason as (
    select serving_id, arg_max_null(reason, entry_no) as reason
    from set_aside, known_moment
    where recorded_at <= known_at
    group by serving_id
),

sample_reason as (
    select sample_id, arg_max_null(reason, entry_no) as reason
    from sample_aside, known_moment
    where recorded_at <= known_at
    group by sample_id
)

select
    answered_glass.serving_id,
    answered_glass.session_on,
    session.label                                                as session,
    coalesce(known_serving.blind_code, known_serving.position::varchar, '') as code,
    answered_glass.family,
    answered_glass.compound,
    answered_glass.total_level,
    answered_glass.method,
    coalesce(answered_glass.named_compound, answered_glass.words, '') as said,
    answered_glass.named_compound is not null                    as said_a_compound,
    answered_glass.outcome,
    answered_glass.is_blank,
    answered_glass.is_aside,
    answered_glass.is_own_preparation,
    coalesce(unfit_sample.is_kept_too_long, false)               as is_kept_too_long,
    coalesce(unfit_sample.has_expired_lot, false)                as has_expired_lot,
    coalesce(unfit_sample.differs, false)                        as differs,
    answered_glass.sample_id in (select sample_id from known_sample_aside) as is_jug_aside,
    coalesce(glass_reason.reason, sample_reason.reason, '')      as aside_reason,
    coalesce(blank_glass.is_possible_background, false)          as is_possible_background
from answered_glass
join known_serving using (serving_id)
join session on session.session_id = answered_glass.session_id
left join glass_reason on glass_reason.serving_id = answered_glass.serving_id
left join sample_reason on sample_reason.sample_id = answered_glass.sample_id
left join unfit_sample on unfit_sample.sample_id = answered_glass.sample_id
left join blank_glass on blank_glass.serving_id = answered_glass.serving_id
where answered_glass.person_id = $person_id
  and answered_glass.session_on <= $until_on
  and not answered_glass.is_open
order by
    answered_glass.session_on, answered_glass.session_id, known_serving.position nulls last,
    answered_glass.serving_id;
