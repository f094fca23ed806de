//! Transient conduction in a body whose surface takes up and gives off heat.
//!
//! Bodies are slabs, plates, cylinders, balls and bricks: products of [`Axis`]es. Definitions of the textbook cases follow
//! Incropera and DeWitt, *Fundamentals of Heat and Mass Transfer*, chapter 5 (page from memory, equations derived again).
//!
//! ```
//! use rangewright_models::cook::heat::{Axis, Body, Exposure, Material, Surroundings};
//!
//! // A cylinder of 120 by 240 mm in moving air of 150 C.
//! let meat = Material::constant(0.48, 1060.0, 3500.0);
//! let mut body = Body::new(vec![Axis::radius(0.12, 16), Axis::slab(0.24, 16)], meat, 5.0);
//! let oven = Exposure::all_round(Surroundings::convective(150.0, 20.0));
//! let step = body.step_seconds();
//! let mut minutes = 0.0;
//! while body.core() < 55.0 {
//!     body.step(step, &oven);
//!     minutes += step / 60.0;
//! }
//! assert!((minutes - 117.5).abs() < 1.0);
//! ```

mod axis;
mod body;
mod material;
mod surface;

pub use axis::Axis;
pub use body::{Body, Exposure};
pub use material::Material;
pub use surface::{Flux, Surroundings, saturation};
