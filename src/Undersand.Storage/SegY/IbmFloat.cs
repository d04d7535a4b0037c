namespace Undersand.Storage.SegY;

/// <summary>The hexadecimal floating point of format 1: sign, exponent of 16 plus 64 in 7 bits, fraction of 24 bits.</summary>
/// <remarks>SEG-Y revision 1, appendix on the IBM/360 floating point. A 32-bit IEEE float can't hold its whole range, so values pass through double.</remarks>
internal static class IbmFloat
{
    /// <summary>Powers of 16 from −70 to 57, so that fraction (an integer of 24 bits) × power is the value.</summary>
    private static readonly double[] PowerOf16 = [.. Enumerable.Range(0, 128).Select(exponent => Math.Pow(2, 4 * (exponent - 64) - 24))];

    /// <summary>The exact value.</summary>
    public static double ToDouble(uint bits)
    {
        double magnitude = (bits & 0x00FF_FFFF) * PowerOf16[(bits >> 24) & 0x7F];
        return bits >> 31 == 0 ? magnitude : -magnitude;
    }

    /// <summary>The nearest value of the format, rounded half up in magnitude.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite or too large.</exception>
    public static uint FromDouble(double value)
    {
        if (!double.IsFinite(value))
            throw new ArgumentOutOfRangeException(nameof(value), value, "the format has no such value");
        double magnitude = Math.Abs(value);
        if (magnitude == 0)
            return 0;
        int exponent = 64;
        while (magnitude >= 1) { magnitude /= 16; exponent++; }
        while (magnitude < 1.0 / 16) { magnitude *= 16; exponent--; }
        uint fraction = (uint)Math.Floor(magnitude * (1 << 24) + 0.5);
        if (fraction == 1 << 24) { fraction >>= 4; exponent++; }
        if (exponent > 127)
            throw new ArgumentOutOfRangeException(nameof(value), value, "too large for the format");
        return exponent < 0 ? 0 : (value < 0 ? 0x8000_0000u : 0) | ((uint)exponent << 24) | fraction;
    }
}
