-- chosen_panels: panels that were kept, the latest first.
-- Params:  (none)
-- Grain:   one row per panel.
-- Used by: steps.panels_kept

select
    panel_id,
    chosen_on,
    chosen_panel.family,
    coalesce(known_family.label, chosen_panel.family) as family_label,
    batch_id,
    coalesce(known_batch.label, '')                   as batch_label,
    callers,
    chosen_text,
    chosen_digest,
    chosen_panel.entry_no,
    chosen_panel.recorded_at,
    author_name.spelling                              as kept_by
from chosen_panel
cross join known_moment
left join known_family on known_family.family = chosen_panel.family
left join known_batch using (batch_id)
left join author on author.entry_no = chosen_panel.entry_no
left join known_person on known_person.spelled_id = author.person_id
left join person_name as author_name on author_name.person_id = known_person.person_id
where chosen_panel.recorded_at <= known_at
order by chosen_panel.entry_no desc;
