-- counted_glasses: glasses that may count for a seat, in the window that ends on each day asked.
-- Purpose: a day is asked because the cell was touched on it, or because the reader asks ($asked_on,
--          a list of days: today, and days to come for the outlook). Own words whose meaning is
--          still open count neither way. $people and $compounds name the cells asked for, pair by
--          pair; null asks for all.
-- Params:  $until_on, $asked_on, $lowest_level, $highest_level, $strong_level, $months, $people, $compounds
-- Grain:   one row per panellist x compound x beer family x day asked; cells never served are absent.
-- Used by: steps.seen

with glass_day as (
    select
        person_id,
        compound,
        family,
        session_on                                       as asked_on,
        count(*) filter (where is_counted)                       as glasses,
        count(*) filter (where is_counted and outcome = 'right') as hits,
        count(*) filter (where is_strong)                        as strong_glasses
    from (
        select
            *,
            round(total_level, 6) between $lowest_level and $highest_level
                and outcome <> 'open'                                     as is_counted,
            round(total_level, 6) >= $strong_level                        as is_strong
        from naming_glass
        where session_on <= $until_on
          and (
              $people is null
              or (person_id, compound) in (
                  select (unnest($people::varchar[]), unnest($compounds::varchar[]))
              )
          )
    )
    group by person_id, compound, family, session_on
),

asked as (
    select distinct person_id, compound, asked_on from glass_day
    union
    select person_id, compound, unnest($asked_on::date[])
    from (select distinct person_id, compound from glass_day)
),

cell as (
    select distinct person_id, compound, family from glass_day
),

filled as (
    select
        cell.person_id,
        cell.compound,
        cell.family,
        asked.asked_on,
        coalesce(glasses, 0)         as glasses,
        coalesce(hits, 0)            as hits,
        coalesce(strong_glasses, 0)  as strong_glasses
    from cell
    join asked using (person_id, compound)
    left join glass_day using (person_id, compound, family, asked_on)
)

select
    person_id,
    compound,
    family,
    asked_on,
    (sum(glasses) over recent)::integer                      as glasses,
    (sum(hits) over recent)::integer                         as hits,
    (sum((glasses > 0)::integer) over recent)::integer       as days,
    (sum(strong_glasses) over recent)::integer               as strong_glasses
from filled
window recent as (
    partition by person_id, compound, family
    order by asked_on
    range between to_months($months) - to_days(1) preceding and current row
)
order by person_id, compound, family, asked_on;
