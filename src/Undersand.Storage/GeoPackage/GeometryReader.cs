using System.Buffers.Binary;

namespace Undersand.Storage.GeoPackage;

/// <summary>Reads geometries of any GeoPackage (1.3, clause 2.1.3) down to their points in the plane: either byte order, with or without heights and measures, single and many. Curves are refused.</summary>
internal static class GeometryReader
{
    private const int MostNested = 8;

    // Bytes of the envelope by its code in the flags.
    private static readonly int[] EnvelopeBytes = [0, 32, 48, 48, 64];

    /// <summary>The rings of a polygon, or a line or a point as the only ring.</summary>
    public static IReadOnlyList<IReadOnlyList<(double X, double Y)>> Rings(ReadOnlySpan<byte> blob)
    {
        IReadOnlyList<Shape> shapes = Shapes(blob);
        return shapes.Count > 0 ? [.. shapes.Select(s => s.Points)] : throw new InvalidDataException("a geometry is empty");
    }

    /// <summary>All points, lines and rings of a geometry; none of an empty one.</summary>
    public static IReadOnlyList<Shape> Shapes(ReadOnlySpan<byte> blob)
    {
        if (blob.Length < 8 || blob[0] != 'G' || blob[1] != 'P')
            throw new InvalidDataException("a geometry does not begin with “GP”");
        int at = 8 + EnvelopeBytes[Math.Min((blob[3] >> 1) & 7, 4)];
        var shapes = new List<Shape>();
        Read(blob, ref at, shapes, 0);
        return shapes;
    }

    private static void Read(ReadOnlySpan<byte> blob, ref int at, List<Shape> shapes, int nested)
    {
        if (nested > MostNested)
            throw new InvalidDataException("a geometry is nested too deep");
        bool little = Take(blob, ref at, 1)[0] == 1;
        uint code = Whole(blob, ref at, little);
        // ISO numbers (1001 has heights, 2001 measures, 3001 both), and the older marks in the highest bits.
        int plain = (int)(code & 0x0fff_ffff), type = plain % 1000, marks = (int)((code >> 31 & 1) + (code >> 30 & 1));
        int extra = Math.Max(marks, (plain / 1000) switch { 0 => 0, 3 => 2, _ => 1 });
        switch (type)
        {
            case 1:
                if (Point(blob, ref at, little, extra) is { X: not double.NaN } point)
                    shapes.Add(new Shape(false, [point]));
                break;
            case 2:
                Add(shapes, false, Points(blob, ref at, little, extra));
                break;
            case 3:
                for (int rings = Count(blob, ref at, little, 4); rings > 0; rings--)
                    Add(shapes, true, Points(blob, ref at, little, extra));
                break;
            case 4 or 5 or 6 or 7:
                for (int parts = Count(blob, ref at, little, 5); parts > 0; parts--)
                    Read(blob, ref at, shapes, nested + 1);
                break;
            default:
                throw new InvalidDataException($"geometries of type {code} are not read here");
        }
    }

    private static void Add(List<Shape> shapes, bool ring, (double X, double Y)[] points)
    {
        if (points.Length > 0)
            shapes.Add(new Shape(ring, points));
    }

    private static (double X, double Y)[] Points(ReadOnlySpan<byte> blob, ref int at, bool little, int extra)
    {
        var points = new (double X, double Y)[Count(blob, ref at, little, 16 + 8 * extra)];
        for (int i = 0; i < points.Length; i++)
            points[i] = Point(blob, ref at, little, extra);
        return points;
    }

    private static (double X, double Y) Point(ReadOnlySpan<byte> blob, ref int at, bool little, int extra)
    {
        ReadOnlySpan<byte> bytes = Take(blob, ref at, 16 + 8 * extra);
        return little ? (BinaryPrimitives.ReadDoubleLittleEndian(bytes), BinaryPrimitives.ReadDoubleLittleEndian(bytes[8..])) : (BinaryPrimitives.ReadDoubleBigEndian(bytes), BinaryPrimitives.ReadDoubleBigEndian(bytes[8..]));
    }

    // How many parts follow, each of at least so many bytes.
    private static int Count(ReadOnlySpan<byte> blob, ref int at, bool little, int least)
    {
        uint count = Whole(blob, ref at, little);
        return count <= (blob.Length - at) / least ? (int)count : throw new InvalidDataException("a geometry is cut off");
    }

    private static uint Whole(ReadOnlySpan<byte> blob, ref int at, bool little) =>
        little ? BinaryPrimitives.ReadUInt32LittleEndian(Take(blob, ref at, 4)) : BinaryPrimitives.ReadUInt32BigEndian(Take(blob, ref at, 4));

    private static ReadOnlySpan<byte> Take(ReadOnlySpan<byte> blob, ref int at, int count)
    {
        if (at > blob.Length - count)
            throw new InvalidDataException("a geometry is cut off");
        at += count;
        return blob.Slice(at - count, count);
    }
}
