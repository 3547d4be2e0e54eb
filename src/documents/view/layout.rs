//! Where every place is, and the drawing of it.

use serde::Serialize;

use super::build::Context;
use crate::drawings::{LAYOUT, Scene, layout, placed};

/// The layout of the vehicle.
#[derive(Debug, Clone, Serialize)]
pub struct LayoutView {
    /// Name of the drawing; none where too few places have a position.
    pub drawing: Option<&'static str>,
    /// Places with a position.
    pub places: Vec<PlacedView>,
    /// Names of the places without one.
    pub left_out: Vec<String>,
}

/// A place and where it is.
#[derive(Debug, Clone, Serialize)]
pub struct PlacedView {
    /// Its number on the drawing.
    pub number: usize,
    /// Its name.
    pub name: String,
    /// What is mounted there.
    pub holds: Vec<String>,
    /// From the back.
    pub from_back: String,
    /// From the left side.
    pub from_left: String,
    /// Above the ground.
    pub height: String,
}

/// The layout of a plan.
pub fn view(context: Context<'_>) -> LayoutView {
    let Context { job, plan, catalog } = context;
    let scene = Scene { job, plan, catalog };
    let places = placed(scene).into_iter().enumerate();
    let places = places.map(|(index, (place, position))| PlacedView {
        number: index + 1,
        name: job.place(place).name.clone(),
        holds: {
            let own = job
                .terminals
                .iter()
                .filter(|terminal| terminal.place == place);
            own.map(|terminal| terminal.name.clone()).collect()
        },
        from_back: context.shown(position.from_back),
        from_left: context.shown(position.from_left),
        height: context.shown(position.height),
    });
    let unplaced = job.places.iter().filter(|place| place.position.is_none());
    LayoutView {
        drawing: layout(scene).map(|_| LAYOUT),
        places: places.collect(),
        left_out: unplaced.map(|place| place.name.clone()).collect(),
    }
}
