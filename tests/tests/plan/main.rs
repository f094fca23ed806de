//! Plans: against oracles, reference kitchens and the rules of the model.

mod checker;
mod checker_faults;
mod crosscheck;
mod kitchens_broken;
mod kitchens_crew;
mod kitchens_plans;
mod kitchens_refused;
mod kitchens_solved;
mod oracle;
mod oracle_hunt;
mod oracle_packing;
mod oracle_properties;
mod oracle_tiny;
mod schedule_kitchens;
mod schedule_random;
mod spare;
