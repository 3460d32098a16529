-- ratings: intensity ratings in a window.
-- Purpose: asked is the compound that a glass of a plan asked about; a blank may be rated for one.
-- Params:  $after_on, $until_on
-- Grain:   one row per rated glass.
-- Used by: steps.glass_facts, steps.ratings, steps.record_rows

select
    person_id, family, session_on, sitting_id, sample_id, compound, asked, total_level,
    duplicate_mark, rating::double as rating
from rated_glass
where session_on > $after_on
  and session_on <= $until_on
order by session_on, person_id, sample_id, position, serving_id;
