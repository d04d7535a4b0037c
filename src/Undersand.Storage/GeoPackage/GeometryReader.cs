using System.Buffers.Binary;

namespace Undersand.Storage.GeoPackage;

/// <summary>Reads the geometries that <see cref="GeometryBlob"/> writes: little-endian points, lines and polygons in the plane. GeoPackage 1.3, clause 2.1.3.</summary>
internal static class GeometryReader
{
    // Bytes of the envelope by its code in the flags.
    private static readonly int[] EnvelopeBytes = [0, 32, 48, 48, 64];

    /// <summary>The rings of a polygon, or a line or a point as the only ring.</summary>
    public static IReadOnlyList<IReadOnlyList<(double X, double Y)>> Rings(ReadOnlySpan<byte> blob)
    {
        if (blob.Length < 8 || blob[0] != 'G' || blob[1] != 'P')
            throw new InvalidDataException("a geometry does not begin with “GP”");
        int at = 8 + EnvelopeBytes[Math.Min((blob[3] >> 1) & 7, 4)];
        if (blob[at] != 1)
            throw new InvalidDataException("a geometry is not little-endian");
        int type = BinaryPrimitives.ReadInt32LittleEndian(blob[(at + 1)..]);
        at += 5;
        if (type == 1)
            return [[Point(blob, ref at)]];
        if (type == 2)
            return [Points(blob, ref at)];
        if (type != 3)
            throw new InvalidDataException($"geometries of type {type} are not ours");
        var rings = new IReadOnlyList<(double X, double Y)>[Count(blob, ref at)];
        for (int i = 0; i < rings.Length; i++)
            rings[i] = Points(blob, ref at);
        return rings;
    }

    private static (double X, double Y)[] Points(ReadOnlySpan<byte> blob, ref int at)
    {
        int count = Count(blob, ref at);
        if (count < 0 || (long)count * 16 > blob.Length - at)
            throw new InvalidDataException("a geometry is cut off");
        var points = new (double X, double Y)[count];
        for (int i = 0; i < count; i++)
            points[i] = Point(blob, ref at);
        return points;
    }

    private static (double X, double Y) Point(ReadOnlySpan<byte> blob, ref int at)
    {
        at += 16;
        return (BinaryPrimitives.ReadDoubleLittleEndian(blob[(at - 16)..]), BinaryPrimitives.ReadDoubleLittleEndian(blob[(at - 8)..]));
    }

    private static int Count(ReadOnlySpan<byte> blob, ref int at)
    {
        at += 4;
        return BinaryPrimitives.ReadInt32LittleEndian(blob[(at - 4)..]);
    }
}
