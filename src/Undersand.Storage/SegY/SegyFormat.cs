namespace Undersand.Storage.SegY;

/// <summary>The sample formats of the standard, by their code in bytes 3225–3226 (SEG-Y revision 2.1).</summary>
public enum SegyFormat
{
    /// <summary>4-byte hexadecimal floating point.</summary>
    IbmFloat32 = 1,
    /// <summary>4-byte integer.</summary>
    Int32 = 2,
    /// <summary>2-byte integer.</summary>
    Int16 = 3,
    /// <summary>4-byte fixed point with gain (obsolete): a zero byte, the gain's exponent, a 2-byte integer.</summary>
    FixedPointWithGain = 4,
    /// <summary>4-byte IEEE 754 floating point.</summary>
    Float32 = 5,
    /// <summary>8-byte IEEE 754 floating point.</summary>
    Float64 = 6,
    /// <summary>3-byte integer.</summary>
    Int24 = 7,
    /// <summary>1-byte integer.</summary>
    Int8 = 8,
    /// <summary>8-byte integer.</summary>
    Int64 = 9,
    /// <summary>4-byte unsigned integer.</summary>
    UInt32 = 10,
    /// <summary>2-byte unsigned integer.</summary>
    UInt16 = 11,
    /// <summary>8-byte unsigned integer.</summary>
    UInt64 = 12,
    /// <summary>3-byte unsigned integer.</summary>
    UInt24 = 15,
    /// <summary>1-byte unsigned integer.</summary>
    UInt8 = 16,
}

/// <summary>What is known of each sample format.</summary>
internal static class SegyFormats
{
    public static bool IsKnown(int code) => code is (>= 1 and <= 12) or 15 or 16;

    public static int SizeOf(SegyFormat format) => format switch
    {
        SegyFormat.Int8 or SegyFormat.UInt8 => 1,
        SegyFormat.Int16 or SegyFormat.UInt16 => 2,
        SegyFormat.Int24 or SegyFormat.UInt24 => 3,
        SegyFormat.Float64 or SegyFormat.Int64 or SegyFormat.UInt64 => 8,
        _ => 4,
    };

    public static bool IsUnsigned(SegyFormat format) =>
        format is SegyFormat.UInt8 or SegyFormat.UInt16 or SegyFormat.UInt24 or SegyFormat.UInt32 or SegyFormat.UInt64;

    /// <summary>The signed integer of the same size.</summary>
    public static SegyFormat SignedTwin(SegyFormat format) => format switch
    {
        SegyFormat.UInt8 => SegyFormat.Int8,
        SegyFormat.UInt16 => SegyFormat.Int16,
        SegyFormat.UInt24 => SegyFormat.Int24,
        SegyFormat.UInt32 => SegyFormat.Int32,
        SegyFormat.UInt64 => SegyFormat.Int64,
        _ => format,
    };

    public static string NameOf(SegyFormat format) => format switch
    {
        SegyFormat.IbmFloat32 => "IBM floating point, 4 bytes",
        SegyFormat.Int32 => "integer, 4 bytes",
        SegyFormat.Int16 => "integer, 2 bytes",
        SegyFormat.FixedPointWithGain => "fixed point with gain, 4 bytes",
        SegyFormat.Float32 => "IEEE floating point, 4 bytes",
        SegyFormat.Float64 => "IEEE floating point, 8 bytes",
        SegyFormat.Int24 => "integer, 3 bytes",
        SegyFormat.Int8 => "integer, 1 byte",
        SegyFormat.Int64 => "integer, 8 bytes",
        SegyFormat.UInt32 => "unsigned integer, 4 bytes",
        SegyFormat.UInt16 => "unsigned integer, 2 bytes",
        SegyFormat.UInt64 => "unsigned integer, 8 bytes",
        SegyFormat.UInt24 => "unsigned integer, 3 bytes",
        SegyFormat.UInt8 => "unsigned integer, 1 byte",
        _ => throw new ArgumentOutOfRangeException(nameof(format), format, "not a format of the standard"),
    };
}
