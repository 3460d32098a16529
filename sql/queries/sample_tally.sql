-- sample_tally: what came of every preparation in a window, planned here or brought in.
-- Params:  $after_on, $until_on
-- Grain:   one row per sample of a closed session with a naming answer; own words without a meaning,
--          single glasses set aside and people's own preparations and what is not for qualification
--          left out, whole jugs set aside not.
-- Used by: steps.doubtful

select
    answered_glass.sample_id,
    answered_glass.session_id,
    answered_glass.session_on,
    session.label                                    as session_label,
    sitting.label                                    as sitting,
    sample.mark,
    answered_glass.compound,
    answered_glass.total_level,
    answered_glass.session_id in (select session_id from plan)           as is_planned,
    answered_glass.sample_id in (select sample_id from known_sample_aside) as is_aside,
    count(*)::integer                                                    as answers,
    (count(*) filter (where outcome = 'right'))::integer                 as named_right
from answered_glass
join sample using (sample_id)
join sitting on sitting.sitting_id = answered_glass.sitting_id
join session on session.session_id = answered_glass.session_id
where answered_glass.method = 'naming'
  and outcome <> 'open'
  and not is_open
  and not is_own_preparation
  and not is_unfit
  and (not is_aside or answered_glass.sample_id in (select sample_id from known_sample_aside))
  and answered_glass.session_on > $after_on
  and answered_glass.session_on <= $until_on
group by all
order by answered_glass.session_on desc, session_label, sitting, mark, answered_glass.sample_id;
