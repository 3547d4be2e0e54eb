//! Typed positions in the lists of a job.

macro_rules! ids {
    ($( $(#[$doc:meta])* $name:ident ),+ $(,)?) => {
        $(
            $(#[$doc])*
            #[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord, serde::Serialize)]
            #[serde(transparent)]
            pub struct $name(pub usize);
        )+
    };
}

ids! {
    /// One of the job's spaces.
    SpaceId,
    /// One of the job's places.
    PlaceId,
    /// One of the job's panels.
    PanelId,
    /// One of the job's legs.
    LegId,
    /// One of the job's terminals.
    TerminalId,
    /// One of the job's leads.
    LeadId,
    /// One of the job's batteries.
    BatteryId,
    /// One of the job's loads.
    LoadId,
}
