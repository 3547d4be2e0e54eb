//! Where along the resistance of a lead a metre of it lies.

use super::wiring::Wiring;
use crate::job::LeadId;
use crate::quantity::Length;
use crate::route::EndPoint;

/// The metres of one lead against its resistance, joints and device included.
#[derive(Debug, Clone)]
pub struct Scale {
    pieces: Vec<Piece>,
    ohm: f64,
}

/// One cable of the lead.
#[derive(Debug, Clone)]
struct Piece {
    start_m: f64,
    length_m: f64,
    /// Resistance from the lead's first end to the start of this cable.
    before_ohm: f64,
    cable_ohm: f64,
}

impl Scale {
    /// The scale of a lead, its conductor at a temperature.
    pub fn of(wiring: &Wiring<'_>, lead: LeadId, celsius: f64) -> Self {
        let joint = wiring.job.rules.joint_resistance.value.ohm();
        let (mut metres, mut ohm) = (0.0, 0.0);
        let mut pieces = Vec::new();
        for section in &wiring.route.leads[lead.0].sections {
            let piece = Piece {
                start_m: metres,
                length_m: section.cut.m(),
                before_ohm: ohm + joint,
                cable_ohm: wiring.length_ohm(lead, section.cut, celsius),
            };
            metres += piece.length_m;
            ohm = piece.before_ohm + piece.cable_ohm + joint;
            if matches!(section.to, EndPoint::ProtectionIn(_)) {
                ohm += wiring.guards[lead.0].ohm();
            }
            pieces.push(piece);
        }
        Self { pieces, ohm }
    }

    /// A cable of one metre without joints.
    #[cfg(test)]
    pub fn of_one_metre(ohm: f64) -> Self {
        let piece = Piece {
            start_m: 0.0,
            length_m: 1.0,
            before_ohm: 0.0,
            cable_ohm: ohm,
        };
        Self {
            pieces: vec![piece],
            ohm,
        }
    }

    /// Part of the lead's resistance that lies before a metre of it, from 0 to 1.
    pub fn part(&self, at: Length) -> f64 {
        let metre = at.m();
        let reached = self.pieces.iter().rfind(|piece| piece.start_m <= metre);
        let Some(piece) = reached.or(self.pieces.first()) else {
            return 0.0;
        };
        let along = (metre - piece.start_m).clamp(0.0, piece.length_m);
        let within = if piece.length_m > 0.0 {
            piece.cable_ohm * along / piece.length_m
        } else {
            0.0
        };
        if self.ohm > 0.0 {
            (piece.before_ohm + within) / self.ohm
        } else {
            0.0
        }
    }
}
