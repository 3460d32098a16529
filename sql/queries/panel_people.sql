-- panel_people: everybody on record under the name they stand for, and whether they are on the panel.
--               Of whom nobody has said so they are.
-- Params:  (none)
-- Grain:   one row per person, by name.
-- Used by: steps.batches, steps.competence_training, steps.history_lines, steps.panel, steps.panels_kept

select
    known_person.person_id,
    spelling,
    coalesce(is_panellist, true) as is_panellist,
    since_on
from known_person
join person_name using (person_id)
left join known_panellist using (person_id)
where spelled_id = known_person.person_id
order by spelling;
