-- sample_tally: what came of every preparation in a window, planned here or brought in.
-- Params:  $after_on, $until_on
-- Grain:   one row per sample with a naming answer that counts; own words without a meaning left out.
-- Used by: steps.doubtful

select
    scored_answer.sample_id,
    scored_answer.session_id,
    scored_answer.session_on,
    session.label                                    as session_label,
    sitting.label                                    as sitting,
    sample.mark,
    scored_answer.compound,
    scored_answer.total_level,
    scored_answer.session_id in (select session_id from plan)    as is_planned,
    count(*)::integer                                            as answers,
    (count(*) filter (where outcome = 'right'))::integer         as named_right
from scored_answer
join sample using (sample_id)
join sitting on sitting.sitting_id = scored_answer.sitting_id
join session on session.session_id = scored_answer.session_id
where scored_answer.method = 'naming'
  and outcome <> 'open'
  and scored_answer.session_on > $after_on
  and scored_answer.session_on <= $until_on
group by all
order by scored_answer.session_on desc, session_label, sitting, mark, scored_answer.sample_id;
