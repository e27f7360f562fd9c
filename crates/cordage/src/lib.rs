//! Rope: fibres, constructions, sizes, and what they carry, weigh and stretch.
//!
//! A [`Rope`] is what a line is made of. It comes from the loft's own list,
//! or from a [description](describe) such as `10 mm 12-strand HMPE` by the
//! tables of published standards; where no standard's table could be read it
//! is an estimate that says so. Bases of strength (spliced, unspliced,
//! average) are kept apart and never mixed.

mod bands;
mod checks;
mod construction;
mod creep;
mod describe;
mod estimate;
mod exposure;
mod fibre;
mod rope;
mod stretch;
pub mod tables;

pub use bands::{Band, Doubt, band, strength_to_weight};
pub use checks::{PEAK_FACTOR, THINNEST_FOR_HANDS, Use, bend, creep, design_factor, grip_by_hand};
pub use construction::{Construction, LoadOn};
pub use creep::{
    ACTIVATION_ENERGY_EV, ACTIVATION_VOLUME_A3, Creep, CreepRate, DISCARD_AT, LIFE_MARGIN, Standing, creep_life,
    creep_ratio, fibre_stress, standing_creep,
};
pub use describe::{Description, DescriptionError, describe, generic};
pub use estimate::{hmpe_linear_density, hmpe_strength};
pub use exposure::{Held, Sun, heat, sunlight, wet_strength};
pub use fibre::{Fibre, FibreFacts};
pub use rope::{Basis, Rope, RopeError, Strength};
pub use stretch::{REFERENCE_TENSION_FROM, reference_tension, stiffness, stretch_at};
