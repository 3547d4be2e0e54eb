//! Makes a file for print small enough to send.
//!
//! The pure Rust compressor gives the same bytes on every processor.

use std::io::Write;

use flate2::Compression;
use flate2::write::ZlibEncoder;
use lopdf::{Document, Object, Stream};

/// How hard to look for repetition, from 1 to 9. At 9 the demo jobs' files are a
/// twentieth smaller, but compressing counts in the time of the whole pack.
const EFFORT: u32 = 4;

/// Compresses every stream of the file that is not compressed yet and gains by it.
pub fn compress(file: &mut Document) -> std::io::Result<()> {
    for object in file.objects.values_mut() {
        if let Object::Stream(stream) = object
            && stream.allows_compression
            && stream.dict.get(b"Filter").is_err()
        {
            deflate(stream)?;
        }
    }
    Ok(())
}

fn deflate(stream: &mut Stream) -> std::io::Result<()> {
    const ENTRY: &str = "/Filter/FlateDecode";
    let mut encoder = ZlibEncoder::new(Vec::new(), Compression::new(EFFORT));
    encoder.write_all(&stream.content)?;
    let small = encoder.finish()?;
    if small.len() + ENTRY.len() < stream.content.len() {
        stream.dict.set("Filter", "FlateDecode");
        stream.set_content(small);
    }
    Ok(())
}
