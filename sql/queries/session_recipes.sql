-- session_recipes: what each vessel of a session was to get, as last worked out.
-- Params:  $session_id
-- Grain:   one row per letter that has a recipe.
-- Used by: steps.dose_ethanol, steps.planning, steps.recipes_kept

select
    known_recipe.mark,
    known_recipe.container_id,
    coalesce(known_container.label, '') as container,
    coalesce(known_container.kind, '')  as container_kind,
    known_recipe.volume_ml,
    known_recipe.stock_id,
    coalesce(stock.label, '')           as stock,
    coalesce(stock.lot, '')             as lot,
    coalesce(stock.kind, '')            as stock_kind,
    known_recipe.pipette_id,
    coalesce(known_pipette.label, '')   as pipette,
    known_recipe.setting_ul,
    known_recipe.shots,
    known_recipe.amount,
    known_recipe.solvent_ul,
    known_recipe.is_out_first,
    known_recipe.gives,
    known_recipe.is_shared,
    known_recipe.level,
    known_recipe.level_off
from known_recipe
left join stock using (stock_id)
left join known_pipette using (pipette_id)
left join known_container using (container_id)
where session_id = $session_id
order by mark;
