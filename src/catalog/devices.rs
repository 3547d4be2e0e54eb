//! Devices in the path of the current.

use super::part::part;
use crate::file::words;
use crate::quantity::{ConductorSize, Current, Length, Resistance, Thread, Voltage};

words! {
    /// How a breaker closes again after it has opened.
    pub enum Reset as "a kind of reset" {
        /// By hand; it cannot be held closed against a fault.
        Manual = "manual",
        /// By itself, again and again while the fault lasts.
        Automatic = "automatic",
        /// By itself once the supply is taken away.
        Modified = "modified",
    }
}

part! {
    /// Circuit breaker.
    pub struct Breaker as "breaker" {
        /// Rated current.
        rating: Current,
        /// Name of its opening-time curve.
        curve: String,
        /// How it closes again.
        reset: Reset,
        /// Largest current it can break.
        interrupting: Current,
        /// Highest system voltage.
        voltage: Voltage,
        /// Thread of its studs.
        stud: Thread,
        /// Resistance when closed.
        resistance: Resistance,
        /// Whether it is safe where fuel or battery gas may gather.
        ignition_protected: bool,
    }
}

part! {
    /// Fuse element.
    pub struct Fuse as "fuse" {
        /// Shape that decides the holder, such as `strip 51 mm`.
        form: String,
        /// Rated current.
        rating: Current,
        /// Name of its opening-time curve.
        curve: String,
        /// Largest current it can break.
        interrupting: Current,
        /// Highest system voltage.
        voltage: Voltage,
        /// Resistance when cold.
        resistance: Resistance,
        /// Whether it is safe, in its holder, where fuel or battery gas may gather.
        ignition_protected: bool,
    }
}

impl Fuse {
    /// Whether it is pushed into its holder, and not bolted down: blades of ISO 8820-3.
    pub fn is_plugged(&self) -> bool {
        self.form.starts_with("blade")
    }
}

part! {
    /// Holder for a fuse.
    pub struct Holder as "holder" {
        /// Fuse shape it takes.
        form: String,
        /// Largest fuse it takes.
        rating: Current,
        /// Thread of its studs.
        stud: Thread,
        /// Whether a cover comes with it.
        cover: bool,
        /// Thread of the mounting screws.
        mount: Thread,
        /// Number of mounting screws.
        mounts: u32,
    }
}

part! {
    /// Master switch or isolator.
    pub struct Switch as "switch" {
        /// Main poles for heavy leads.
        poles: u32,
        /// Whether it also breaks the ignition.
        ignition_pole: bool,
        /// Whether it also breaks the alternator's field or output.
        alternator_pole: bool,
        /// Continuous current.
        rating: Current,
        /// Short-time current, for cranking.
        intermittent: Current,
        /// Highest system voltage.
        voltage: Voltage,
        /// Thread of its studs.
        stud: Thread,
        /// Resistance when closed.
        resistance: Resistance,
        /// Whether it is safe where fuel or battery gas may gather.
        ignition_protected: bool,
    }
}

part! {
    /// Contactor or relay.
    pub struct Contactor as "contactor" {
        /// Continuous current.
        rating: Current,
        /// Short-time current.
        intermittent: Current,
        /// Coil voltage.
        voltage: Voltage,
        /// Thread of its studs.
        stud: Thread,
        /// Resistance when closed.
        resistance: Resistance,
    }
}

part! {
    /// Plug and socket, one pair.
    pub struct Connector as "connector" {
        /// Number of contacts.
        contacts: u32,
        /// Continuous current of one contact.
        rating: Current,
        /// Largest conductor a contact takes.
        max_size: ConductorSize,
        /// Resistance of one mated contact.
        resistance: Resistance,
        /// Highest system voltage.
        voltage: Voltage,
        /// Insulation to strip.
        strip: Length,
    }
}
