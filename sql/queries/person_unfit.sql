-- person_unfit: answers of one panellist in a beer family that are kept and not for qualification, and why.
-- Params:  $person_id, $family, $until_on
-- Grain:   one row per reason.
-- Used by: steps.records

select
    case
        when has_expired_lot then 'expired'
        when differs then 'differs'
        else 'kept'
    end                as why,
    count(*)::integer  as answers
from answered_glass
join unfit_sample using (sample_id)
where person_id = $person_id
  and family = $family
  and session_on <= $until_on
  and not is_open
  and not is_aside
  and not is_own_preparation
group by why
order by why;
