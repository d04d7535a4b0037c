using System.Buffers.Binary;
using System.Text;

namespace Undersand.Runs.Reporting;

/// <summary>Widths of an embedded TrueType font, so that text can be laid out before anyone draws it (OpenType 1.9: cmap format 4, hmtx).</summary>
internal sealed class Typeface
{
    private readonly byte[] _font;
    private readonly int _hmtx, _metrics, _cmap;
    private readonly double _unitsPerEm;

    private Typeface(string resource)
    {
        _font = Resources.Bytes(resource);
        _unitsPerEm = U16(Table("head") + 18);
        _hmtx = Table("hmtx");
        _metrics = U16(Table("hhea") + 34);
        _cmap = Format4(Table("cmap"));
    }

    public static Typeface Regular { get; } = new("Reporting.Fonts.IBMPlexSans-Regular.ttf");
    public static Typeface SemiBold { get; } = new("Reporting.Fonts.IBMPlexSans-SemiBold.ttf");

    public static Typeface Of(bool bold) => bold ? SemiBold : Regular;

    /// <summary>The font file.</summary>
    public byte[] File => _font;

    /// <summary>Width in millimetres of text set in points.</summary>
    public double Width(string text, double points)
    {
        long units = 0;
        foreach (Rune rune in text.EnumerateRunes())
            units += Advance(Glyph(rune.Value));
        return units / _unitsPerEm * points / Tokens.PointsPerMm;
    }

    /// <summary>The text with what the font can't draw, and what has no place in a line, replaced.</summary>
    public string Drawable(string text)
    {
        var drawable = new StringBuilder(text.Length);
        foreach (Rune rune in text.EnumerateRunes())
            if (Rune.IsControl(rune))
                drawable.Append(' ');
            else if (Glyph(rune.Value) != 0)
                drawable.Append(rune);
            else
                drawable.Append('\u00bf');
        return drawable.ToString();
    }

    private int Advance(int glyph) => U16(_hmtx + 4 * Math.Min(glyph, _metrics - 1));

    private int Glyph(int character)
    {
        if (character > 0xffff)
            return 0;
        int segments = U16(_cmap + 6) / 2, ends = _cmap + 14, starts = ends + 2 * segments + 2, deltas = starts + 2 * segments, offsets = deltas + 2 * segments;
        for (int s = 0; s < segments; s++)
        {
            if (U16(ends + 2 * s) < character)
                continue;
            int start = U16(starts + 2 * s);
            if (start > character)
                return 0;
            int delta = U16(deltas + 2 * s), offset = U16(offsets + 2 * s);
            if (offset == 0)
                return (character + delta) & 0xffff;
            int glyph = U16(offsets + 2 * s + offset + 2 * (character - start));
            return glyph == 0 ? 0 : (glyph + delta) & 0xffff;
        }
        return 0;
    }

    private int Table(string tag)
    {
        int tables = U16(4);
        for (int t = 0; t < tables; t++)
            if (Encoding.ASCII.GetString(_font, 12 + 16 * t, 4) == tag)
                return (int)BinaryPrimitives.ReadUInt32BigEndian(_font.AsSpan(12 + 16 * t + 8));
        throw new InvalidOperationException($"The embedded font has no table {tag}.");
    }

    private int Format4(int cmap)
    {
        int tables = U16(cmap + 2);
        for (int t = 0; t < tables; t++)
        {
            int at = cmap + (int)BinaryPrimitives.ReadUInt32BigEndian(_font.AsSpan(cmap + 4 + 8 * t + 4));
            if (U16(at) == 4)
                return at;
        }
        throw new InvalidOperationException("The embedded font has no character map of format 4.");
    }

    private int U16(int at) => BinaryPrimitives.ReadUInt16BigEndian(_font.AsSpan(at));
}
