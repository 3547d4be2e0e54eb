//! Currents and torques of studs.

use longlead::catalog::StudMaterial;
use longlead::quantity::{Quantity, Thread};

use super::support::{CATALOG, lamp_job, planned};

/// A terminal-bolt maker's table for CuZn37 F45: thread, torque in N.m, current in A (read).
#[test]
fn brass_studs_carry_and_take_what_their_table_says() {
    let table = [
        ("M5", 2.0, 25.0),
        ("M6", 3.0, 63.0),
        ("M8", 6.0, 100.0),
        ("M10", 10.0, 160.0),
        ("M12", 15.5, 250.0),
    ];
    for (thread, torque, current) in table {
        let row = CATALOG
            .stud(Thread::parse(thread).unwrap(), StudMaterial::Brass)
            .unwrap();
        assert_eq!(
            (row.torque.nm(), row.current.a()),
            (torque, current),
            "{thread}"
        );
    }
}

/// The same table for E-Cu F25 (read), and for bolts that only clamp lug to lug (read).
#[test]
fn copper_studs_and_clamped_joints_carry_what_their_tables_say() {
    for (thread, current) in [("M10", 200.0), ("M12", 315.0)] {
        let row = CATALOG
            .stud(Thread::parse(thread).unwrap(), StudMaterial::Copper)
            .unwrap();
        assert_eq!(row.current.a(), current, "{thread}");
    }
    let clamped = [
        ("M5", 75.0),
        ("M6", 125.0),
        ("M8", 150.0),
        ("M10", 200.0),
        ("M12", 350.0),
    ];
    for (thread, current) in clamped {
        let row = CATALOG
            .stud(Thread::parse(thread).unwrap(), StudMaterial::Steel)
            .unwrap();
        assert_eq!(row.current.a(), current, "{thread}");
    }
}

/// An industrial drive manual, for ring lugs (read); equal to IEC 60947-1 Table 4 column III
/// (memory) but for M6, where that says 3.0 N.m.
#[test]
fn steel_studs_take_the_torque_of_device_terminals() {
    for (thread, torque) in [
        ("M5", 2.0),
        ("M6", 2.5),
        ("M8", 6.0),
        ("M10", 10.0),
        ("M12", 14.0),
    ] {
        let row = CATALOG
            .stud(Thread::parse(thread).unwrap(), StudMaterial::Steel)
            .unwrap();
        assert_eq!(row.torque.nm(), torque, "{thread}");
    }
}

/// ISO 272 and ISO 273, medium series (memory).
#[test]
fn wrenches_and_holes_follow_iso_272_and_273() {
    let table = [
        ("M5", 8.0, 5.5),
        ("M6", 10.0, 6.6),
        ("M8", 13.0, 9.0),
        ("M10", 16.0, 11.0),
        ("M12", 18.0, 13.5),
    ];
    for (thread, flats, hole) in table {
        let row = CATALOG.thread(Thread::parse(thread).unwrap()).unwrap();
        assert!((row.across_flats.mm() - flats).abs() < 1e-9, "{thread}");
        assert!((row.hole.mm() - hole).abs() < 1e-9, "{thread}");
    }
}

/// The lamp's leads go over a bus with M8 brass studs: 6.0 N.m by the terminal-bolt maker's table.
#[test]
fn a_planned_joint_on_an_m8_brass_stud_gets_its_torque() {
    let mut buses = CATALOG.buses.iter();
    let brass = |bus: &&longlead::catalog::Bus| {
        bus.stud == Thread::M8 && bus.material == StudMaterial::Brass && bus.studs >= 4
    };
    let part = buses.find(brass).unwrap().id.value.clone();
    let text = lamp_job("road vehicle", "", "", "current = '10 A'")
        .replace("to = \"lamp +\"", "to = \"hub\"");
    let more = format!(
        "\n[[bus]]\nname = 'hub'\nplace = 'mast'\npolarity = 'positive'\npart = '{part}'\n\
         [[lead]]\nname = 'drop'\nfrom = 'hub'\nto = 'lamp +'\n"
    );
    let plan = planned(&(text + &more));
    let joint = plan
        .fittings
        .joints
        .iter()
        .find(|joint| joint.name.contains("hub"))
        .unwrap();
    assert_eq!(
        (joint.thread, joint.torque.value.unwrap().nm()),
        (Thread::M8, 6.0)
    );
    assert_eq!(joint.wrench.as_deref(), Some("13 mm"));
}

#[test]
fn a_planned_joint_names_torque_and_wrench() {
    let plan = planned(&lamp_job("road vehicle", "", "", "current = '10 A'"));
    let joint = plan
        .fittings
        .joints
        .iter()
        .find(|joint| joint.name.contains("lamp +"))
        .unwrap();
    // M6 of a load: 2.5 N.m by the drive manual; the maker's figure wins over it.
    assert_eq!(joint.torque.value.unwrap().nm(), 2.5);
    assert_eq!(joint.wrench.as_deref(), Some("10 mm"));
}
