-- shelf_history: everything stated about the shelf since the shipped vocabulary, newest first.
-- Params:  (none)
-- Grain:   one row per statement.
-- Used by: steps.shelf_history

with lists as (
    select
        entry_no,
        family,
        string_agg(compounds, '|' order by item_no) filter (role = 'critical') as critical,
        string_agg(compounds, '|' order by item_no) filter (role = 'expected') as expected
    from (
        select
            entry_no, family, role, item_no,
            string_agg(compound, '+' order by compound) as compounds
        from family_compound
        group by entry_no, family, role, item_no
    )
    group by entry_no, family
),

stated as (
    select entry_no, 'brewery' as kind, null as compound, null as beer, null as family,
        label as words, time_zone as more, null as amount, null as valid_from_on
    from brewery
    union all by name
    select entry_no, 'compound' as kind, compound, label as words
    from compound
    union all by name
    select entry_no, 'words' as kind, compound, words
    from synonym
    union all by name
    select entry_no, 'accepted' as kind, compound, words, if(is_accepted, 'yes', 'no') as more
    from accepted_words
    union all by name
    select entry_no, 'family' as kind, family, label as words, critical as more, expected as also
    from beer_family
    left join lists using (entry_no, family)
    union all by name
    select entry_no, 'beer' as kind, beer, family, label as words, abv_percent as amount
    from base_beer
    union all by name
    select entry_no, 'threshold' as kind, compound, family, threshold_ug_l as amount, valid_from_on
    from working_threshold
    union all by name
    select entry_no, 'background' as kind, compound, beer, known as more,
        background_ug_l as amount, valid_from_on
    from background
    union all by name
    select entry_no, 'keeping' as kind, compound, half_life_h as amount, valid_from_on
    from keeping
)

select
    stated.entry_no,
    history.recorded_at,
    coalesce(person_name.spelling, '') as who,
    stated.kind,
    stated.compound,
    stated.beer,
    stated.family,
    words,
    more,
    also,
    amount,
    valid_from_on
from stated
join history using (entry_no)
cross join known_moment
left join author using (entry_no)
left join known_person on known_person.spelled_id = author.person_id
left join person_name on person_name.person_id = known_person.person_id
where history.kind <> 'vocabulary'
  and history.recorded_at <= known_at
order by stated.entry_no desc, stated.kind, stated.compound, stated.beer, stated.family, words;
