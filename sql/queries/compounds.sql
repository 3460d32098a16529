-- compounds: the vocabulary.
-- Params:  (none)
-- Grain:   one row per compound.
-- Used by: steps.accepted_words, steps.answers, steps.ballot_forms, steps.boards, steps.desk, steps.panels_kept, steps.planning, steps.rulebook_views, steps.rulebooks, steps.seen, steps.session_facts, steps.shelf_keeping, steps.talk, steps.weigh_priors, steps.weigh_sittings, steps.weighing_rows, steps.words

select compound, label, descriptors, chemical_name, serve
from compound, known_moment
where recorded_at <= known_at
order by compound;
