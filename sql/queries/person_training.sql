-- person_training: what one panellist tasted, session by session and compound by compound.
-- Params:  $person_id, $until_on
-- Grain:   one row per session x compound, blanks as null; only answers that are evidence.
-- Used by: steps.competence_training

select
    session.session_id,
    session.session_on,
    session.label                                        as session,
    coalesce(plan.purpose, '')                           as purpose,
    scored_answer.compound,
    compound.label,
    count(*)::integer                                    as glasses,
    (count(*) filter (where outcome = 'right'))::integer as right_ones
from scored_answer
join session using (session_id)
left join plan using (session_id)
left join compound on compound.compound = scored_answer.compound
where scored_answer.person_id = $person_id
  and session.session_on <= $until_on
group by
    session.session_id, session.session_on, session.label, plan.purpose, scored_answer.compound,
    compound.label
order by session.session_on, session.session_id, compound.label nulls last;
