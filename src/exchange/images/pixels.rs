//! How many pixels a picture has, from its first bytes, before anything unpacks it: a file of
//! some kilobytes can hold a picture that fills the memory.

/// Pixels from left to right and from top to bottom, where the bytes say so. Those of the whole
/// file are not needed: it stands at the beginning, in a JPEG behind what the camera noted.
pub fn size(bytes: &[u8]) -> Option<(u32, u32)> {
    match bytes {
        [0xff, 0xd8, rest @ ..] => jpeg(rest),
        [0x89, b'P', b'N', b'G', ..] => png(bytes),
        [b'R', b'I', b'F', b'F', ..] => webp(bytes.get(12..)?),
        _ => None,
    }
}

fn at<const N: usize>(bytes: &[u8], place: usize) -> Option<[u8; N]> {
    bytes.get(place..place + N)?.try_into().ok()
}

/// The first chunk is IHDR, behind eight bytes of signature, its length and its name (PNG, W3C,
/// 5.2 and 11.2.1).
fn png(bytes: &[u8]) -> Option<(u32, u32)> {
    let side = |place| at(bytes, place).map(u32::from_be_bytes);
    Some((side(16)?, side(20)?))
}

/// The frame header, of whatever process, behind other segments, each with its length (ITU-T T.81,
/// B.1 and B.2.2). Any number of fill bytes may stand before a marker.
fn jpeg(mut rest: &[u8]) -> Option<(u32, u32)> {
    loop {
        let marker = rest.iter().position(|byte| *byte != 0xff)?;
        let code = rest[marker];
        rest = &rest[marker + 1..];
        let stands_alone = matches!(code, 0x00 | 0x01 | 0xd0..=0xd8);
        let is_frame = matches!(code, 0xc0..=0xcf) && !matches!(code, 0xc4 | 0xc8 | 0xcc);
        if is_frame {
            let side = |place| at(rest, place).map(|two| u32::from(u16::from_be_bytes(two)));
            return Some((side(5)?, side(3)?));
        }
        if !stands_alone {
            let length = u16::from_be_bytes(at(rest, 0)?);
            rest = rest.get(usize::from(length)..)?;
        }
        // Decoders pass over what stands between two segments.
        let next = rest.iter().position(|byte| *byte == 0xff)?;
        rest = &rest[next..];
    }
}

/// The first chunk of three kinds, behind its name and its length (RFC 9649, 2.5 to 2.7; RFC 6386,
/// 9.1, for the frame of the first).
fn webp(chunk: &[u8]) -> Option<(u32, u32)> {
    let data = chunk.get(8..)?;
    match &at::<4>(chunk, 0)? {
        b"VP8 " => {
            let side =
                |place| at(data, place).map(|two| u32::from(u16::from_le_bytes(two)) & 0x3fff);
            Some((side(6)?, side(8)?))
        }
        b"VP8L" => {
            let bits = u32::from_le_bytes(at(data, 1)?);
            Some(((bits & 0x3fff) + 1, (bits >> 14 & 0x3fff) + 1))
        }
        b"VP8X" => {
            let side = |place| {
                let [low, middle, high] = at(data, place)?;
                Some(u32::from_le_bytes([low, middle, high, 0]) + 1)
            };
            Some((side(4)?, side(7)?))
        }
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A PNG's beginning with these sides.
    fn png_of(width: u32, height: u32) -> Vec<u8> {
        let sides = [width.to_be_bytes(), height.to_be_bytes()].concat();
        [b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR".as_slice(), &sides].concat()
    }

    #[test]
    fn each_format_states_its_size_at_the_beginning() {
        assert_eq!(size(&png_of(19_000, 18_000)), Some((19_000, 18_000)));
        // A JPEG: a comment, fill bytes, then a progressive frame of 3 x 258.
        let jpeg = b"\xff\xd8\xff\xfe\x00\x04hi\xff\xff\xff\xc2\x00\x11\x08\x01\x02\x00\x03";
        assert_eq!(size(jpeg), Some((3, 258)));
        // Huffman tables come before the frame and are none.
        let tables = b"\xff\xd8\xff\xc4\x00\x04\xff\xc0\xff\xc0\x00\x11\x08\x00\x05\x00\x06";
        assert_eq!(size(tables), Some((6, 5)));
        let webp =
            |kind: &[u8], data: &[u8]| [b"RIFF\0\0\0\0WEBP", kind, b"\0\0\0\0", data].concat();
        let lossy = webp(b"VP8 ", b"\0\0\0\x9d\x01\x2a\x2c\x41\x05\0");
        assert_eq!(size(&lossy), Some((300, 5)), "the upper two bits scale");
        let lossless = webp(b"VP8L", &[0x2f, 0x2b, 0x01, 0x01, 0x00]);
        assert_eq!(size(&lossless), Some((300, 5)));
        let extended = webp(b"VP8X", &[0, 0, 0, 0, 0x2b, 1, 0, 4, 0, 0]);
        assert_eq!(size(&extended), Some((300, 5)));
    }

    #[test]
    fn what_ends_before_its_size_says_none() {
        let whole = png_of(7, 7);
        for end in 0..whole.len() {
            assert_eq!(size(&whole[..end]), None, "{end}");
        }
        for text in [
            &b"\xff\xd8"[..],
            b"\xff\xd8\xff",
            b"\xff\xd8\xff\xe0\0\0",
            b"RIFF",
            b"GIF89a",
        ] {
            assert_eq!(size(text), None);
        }
    }
}
