namespace Undersand.Storage.SegY;

/// <summary>What a trace header says, with scalars applied; revision 2's first extension wins where it is present.</summary>
internal struct SegyTraceHeader
{
    public const int Size = 240;

    /// <param name="bytes">The standard header, and the first extension if the file has one.</param>
    /// <param name="order">The byte order.</param>
    public SegyTraceHeader(ReadOnlySpan<byte> bytes, SegyByteOrder order)
    {
        var h = new HeaderBytes(bytes[..Size], order);
        Ping = h.Int32At(9);
        Receiver = h.Int32At(13);
        Kind = h.Int16At(29);
        ReceiverElevation = h.ScaledAt(41, 69);
        SourceDepth = h.ScaledAt(49, 69);
        SourceX = h.ScaledAt(73, 71);
        SourceY = h.ScaledAt(77, 71);
        ReceiverX = h.ScaledAt(81, 71);
        ReceiverY = h.ScaledAt(85, 71);
        CoordinateUnits = h.Int16At(89);
        Delay = HeaderBytes.Scaled(h.Int16At(109), h.Int16At(215)) / 1000;
        Samples = h.UInt16At(115);
        IntervalMicroseconds = h.Int16At(117);
        Year = h.Int16At(157);
        Day = h.Int16At(159);
        Hour = h.Int16At(161);
        Minute = h.Int16At(163);
        Second = h.Int16At(165);
        TimeBasis = h.Int16At(167);
        if (bytes.Length >= 2 * Size && HasExtensionName(bytes.Slice(Size + 232, 8)))
            TakeExtension(new HeaderBytes(bytes.Slice(Size, Size), order));
    }

    public int Ping { get; }
    public int Receiver { get; }
    /// <summary>Bytes 29–30: 1 live, 2 dead, 3 dummy, 6 sweep.</summary>
    public short Kind { get; }
    public double ReceiverElevation { get; private set; }
    public double SourceDepth { get; private set; }
    public double SourceX { get; private set; }
    public double SourceY { get; private set; }
    public double ReceiverX { get; private set; }
    public double ReceiverY { get; private set; }
    public short CoordinateUnits { get; }
    /// <summary>Seconds from the start of transmission to sample 0.</summary>
    public double Delay { get; }
    public uint Samples { get; private set; }
    public double IntervalMicroseconds { get; private set; }
    public short Year { get; }
    public short Day { get; }
    public short Hour { get; }
    public short Minute { get; }
    public short Second { get; }
    public short TimeBasis { get; }
    public int Nanoseconds { get; private set; }
    public bool HasNanoseconds { get; private set; }
    public bool IsReplica => Kind == 6;
    public bool IsLive => Kind is not (2 or 3);

    /// <summary>Trace header extension 1 of revision 2.1, whose bytes count from 1 again; zero is “not given”.</summary>
    private void TakeExtension(HeaderBytes e)
    {
        ReceiverElevation = Given(e.DoubleAt(33), Given(-e.DoubleAt(41), ReceiverElevation));
        SourceDepth = Given(e.DoubleAt(57), SourceDepth);
        if (Given(e.DoubleAt(97), 0) != 0 || Given(e.DoubleAt(105), 0) != 0)
            (SourceX, SourceY) = (e.DoubleAt(97), e.DoubleAt(105));
        if (Given(e.DoubleAt(113), 0) != 0 || Given(e.DoubleAt(121), 0) != 0)
            (ReceiverX, ReceiverY) = (e.DoubleAt(113), e.DoubleAt(121));
        if (e.UInt32At(137) is not 0 and var samples)
            Samples = samples;
        Nanoseconds = e.Int32At(141);
        HasNanoseconds = Nanoseconds is >= 0 and < 1_000_000_000;
        IntervalMicroseconds = Given(e.DoubleAt(145), IntervalMicroseconds);
    }

    private static double Given(double extended, double otherwise) =>
        double.IsFinite(extended) && Math.Abs(extended) is > 1e-9 and < 1e12 ? extended : otherwise;

    /// <summary>“SEG00001” in ASCII or EBCDIC; some writers leave it zero.</summary>
    private static bool HasExtensionName(ReadOnlySpan<byte> name) =>
        name.SequenceEqual("SEG00001"u8) || name.SequenceEqual((ReadOnlySpan<byte>)[0xE2, 0xC5, 0xC7, 0xF0, 0xF0, 0xF0, 0xF0, 0xF1])
        || !name.ContainsAnyExcept((byte)0);
}
