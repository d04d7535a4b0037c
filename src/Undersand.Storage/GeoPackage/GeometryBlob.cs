using System.Buffers;
using System.Buffers.Binary;

namespace Undersand.Storage.GeoPackage;

/// <summary>A geometry as a GeoPackage stores it: a header, the envelope except for points, then WKB, all little-endian. GeoPackage 1.3, clause 2.1.3.</summary>
internal sealed class GeometryBlob
{
    private readonly ArrayBufferWriter<byte> _bytes = new();

    private GeometryBlob(int srsId, Envelope envelope, bool isPoint)
    {
        Envelope = envelope;
        _bytes.Write("GP"u8);
        _bytes.Write<byte>([0, (byte)(isPoint ? 0b0000_0001 : 0b0000_0011)]);
        Put(srsId);
        if (!isPoint)
            foreach (double edge in new[] { envelope.MinX, envelope.MaxX, envelope.MinY, envelope.MaxY })
                Put(edge);
    }

    public Envelope Envelope { get; }

    public byte[] ToArray() => _bytes.WrittenSpan.ToArray();

    /// <summary>A place of the survey, to the millimetre.</summary>
    public static GeometryBlob Point(int srsId, GridPoint place) => Point(srsId, Math.Round(place.Easting, 3), Math.Round(place.Northing, 3));

    public static GeometryBlob Point(int srsId, double x, double y)
    {
        var blob = new GeometryBlob(srsId, Envelope.Of([(x, y)]), isPoint: true);
        blob.Begin(1);
        blob.Put(x);
        blob.Put(y);
        return blob;
    }

    public static GeometryBlob LineString(int srsId, IReadOnlyList<(double X, double Y)> points)
    {
        var blob = new GeometryBlob(srsId, Envelope.Of(points), isPoint: false);
        blob.Begin(2);
        blob.Put(points);
        return blob;
    }

    /// <param name="srsId">Its reference system.</param>
    /// <param name="rings">The outer ring, anticlockwise, then the holes, clockwise; each closed.</param>
    public static GeometryBlob Polygon(int srsId, IReadOnlyList<IReadOnlyList<(double X, double Y)>> rings)
    {
        var blob = new GeometryBlob(srsId, Envelope.Of(rings[0]), isPoint: false);
        blob.Begin(3);
        blob.Put(rings.Count);
        foreach (var ring in rings)
            blob.Put(ring);
        return blob;
    }

    private void Begin(int type)
    {
        _bytes.Write<byte>([1]);
        Put(type);
    }

    private void Put(IReadOnlyList<(double X, double Y)> points)
    {
        Put(points.Count);
        foreach (var (x, y) in points)
        {
            Put(x);
            Put(y);
        }
    }

    private void Put(int value)
    {
        Span<byte> bytes = stackalloc byte[4];
        BinaryPrimitives.WriteInt32LittleEndian(bytes, value);
        _bytes.Write(bytes);
    }

    private void Put(double value)
    {
        Span<byte> bytes = stackalloc byte[8];
        BinaryPrimitives.WriteDoubleLittleEndian(bytes, value);
        _bytes.Write(bytes);
    }
}
