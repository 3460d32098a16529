-- counted_glasses: glasses that may count for a seat, in the window that ends on each day asked.
-- Purpose: a day is asked because the cell was touched on it, or because the reader asks ($asked_on,
--          a list of days: today, and days to come for the outlook).
-- Params:  $until_on, $asked_on, $lowest_level, $highest_level, $strong_level, $months
-- Grain:   one row per panellist x compound x beer family x day asked; cells never served are absent.
-- Used by: steps.judging

with glass as (
    select
        person_id, compound, family, session_on, outcome,
        round(total_level, 6) between $lowest_level and $highest_level as is_counted,
        round(total_level, 6) >= $strong_level                        as is_strong
    from naming_glass
    where session_on <= $until_on
),

cell as (
    select distinct person_id, compound, family from glass
),

asked as (
    select distinct person_id, compound, session_on as asked_on from glass
    union
    select person_id, compound, unnest($asked_on::date[]) as asked_on
    from (select distinct person_id, compound from glass)
)

select
    cell.person_id,
    cell.compound,
    cell.family,
    asked.asked_on,
    count(*) filter (where is_counted)                                    as glasses,
    count(*) filter (where is_counted and outcome = 'right')              as hits,
    count(distinct session_on) filter (where is_counted)                  as days,
    count(*) filter (where is_strong)                                     as strong_glasses
from cell
join asked using (person_id, compound)
left join glass
    on  glass.person_id = cell.person_id
    and glass.compound = cell.compound
    and glass.family = cell.family
    and glass.session_on <= asked.asked_on
    and glass.session_on > asked.asked_on - to_months($months)
group by cell.person_id, cell.compound, cell.family, asked.asked_on
order by cell.person_id, cell.compound, cell.family, asked.asked_on;
