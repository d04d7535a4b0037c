using System.Buffers.Binary;
using System.Text;
using NodaTime;

namespace Undersand.Storage.SegY;

/// <summary>Writes a SEG-Y file trace by trace. Same traces, same bytes: no clock, no names of machines.</summary>
public sealed class SegyWriter : IDisposable
{
    private readonly Stream _stream;
    private readonly SegyWriterSettings _settings;
    private readonly byte[] _headers;
    private readonly byte[] _samples;
    private int _written;

    /// <summary>Writes the file's headers.</summary>
    /// <param name="stream">Where to write; closed by <see cref="Dispose"/>.</param>
    /// <param name="settings">How.</param>
    /// <exception cref="ArgumentException">The revision can't say the number of samples or their interval.</exception>
    public SegyWriter(Stream stream, SegyWriterSettings settings)
    {
        if (settings.SampleCount is < 1 || !IsRevision2(settings) && settings.SampleCount > ushort.MaxValue)
            throw new ArgumentException($"{settings.SampleCount} samples can't be said before revision 2", nameof(settings));
        double microseconds = settings.SampleInterval * 1e6;
        if (!(microseconds > 0) || !IsRevision2(settings) && (Math.Abs(microseconds - Math.Round(microseconds)) > 1e-6 || microseconds > short.MaxValue))
            throw new ArgumentException($"a sample interval of {microseconds} µs can't be said before revision 2", nameof(settings));
        (_stream, _settings) = (stream, settings);
        _headers = new byte[HasExtension ? 480 : 240];
        _samples = new byte[settings.SampleCount * SegyFormats.SizeOf(settings.Format)];
        _stream.Write(TextHeader(settings.Text));
        _stream.Write(BinaryHeader());
    }

    private bool HasExtension => _settings.Revision == SegyRevision.Rev21;

    private static bool IsRevision2(SegyWriterSettings settings) => settings.Revision is SegyRevision.Rev20 or SegyRevision.Rev21;

    /// <summary>Writes a whole line, ping by ping; the stream stays open.</summary>
    public static void WriteLine(Stream stream, ISurveyLine line, SegyWriterSettings settings)
    {
        var writer = new SegyWriter(stream, settings);
        float[] samples = [];
        if (line.Replica is { } replica)
        {
            float[] padded = new float[settings.SampleCount];
            replica.Span[..Math.Min(replica.Length, padded.Length)].CopyTo(padded);
            Ping first = line.PingAt(0);
            writer.Write(new SegyTrace(first.Number, 0, 6, default, default, 0, first.Time), padded);
        }
        for (int i = 0; i < line.PingCount; i++)
        {
            Ping ping = line.PingAt(i);
            if (samples.Length < ping.Receivers.Count * line.SampleCount)
                samples = new float[ping.Receivers.Count * line.SampleCount];
            line.Read(i, samples);
            for (int r = 0; r < ping.Receivers.Count; r++)
            {
                Receiver receiver = ping.Receivers[r];
                writer.Write(new SegyTrace(ping.Number, receiver.Number, receiver.Live ? 1 : 2, ping.Source, receiver.Position, ping.FirstSampleTime, ping.Time), samples.AsSpan(r * line.SampleCount, line.SampleCount));
            }
        }
    }

    /// <summary>Writes a trace.</summary>
    /// <param name="trace">Its headers.</param>
    /// <param name="samples">As many as the settings say.</param>
    /// <exception cref="ArgumentException">A number of samples, a position or a value doesn't fit.</exception>
    public void Write(SegyTrace trace, ReadOnlySpan<float> samples)
    {
        if (samples.Length != _settings.SampleCount)
            throw new ArgumentException($"{samples.Length} samples instead of {_settings.SampleCount}", nameof(samples));
        Array.Clear(_headers);
        FillHeader(trace, new HeaderWriter(_headers.AsSpan(0, 240), _settings.ByteOrder));
        if (HasExtension)
            FillExtension(trace, new HeaderWriter(_headers.AsSpan(240, 240), _settings.ByteOrder));
        SampleEncoder.Encode(samples, _settings.Format, _settings.ByteOrder, _samples);
        _stream.Write(_headers);
        _stream.Write(_samples);
    }

    /// <inheritdoc/>
    public void Dispose() => _stream.Dispose();

    private static byte[] TextHeader(IReadOnlyList<string> lines)
    {
        var text = new StringBuilder(3200);
        for (int i = 1; i <= 40; i++)
            text.Append($"C{i,2} {(i <= lines.Count ? lines[i - 1] : i == 40 ? "END TEXTUAL HEADER" : "")}".PadRight(80)[..80]);
        return Encoding.ASCII.GetBytes(text.ToString());
    }

    private byte[] BinaryHeader()
    {
        byte[] bytes = new byte[400];
        var h = new HeaderWriter(bytes, _settings.ByteOrder, 3201);
        h.Int32(3205, 1);
        h.Int16(3213, _settings.TracesPerPing);
        h.Int16(3217, (int)Math.Round(_settings.SampleInterval * 1e6));
        h.Int16(3221, Math.Min(_settings.SampleCount, ushort.MaxValue));
        h.Int16(3225, (int)_settings.Format);
        h.Int16(3227, 1);
        if (_settings.Sweep is { } sweep)
            FillSweep(h, sweep);
        h.Int16(3249, _settings.IsCorrelated switch { null => 0, false => 1, true => 2 });
        h.Int16(3255, 1);
        if (IsRevision2(_settings))
        {
            h.Int32(3269, _settings.SampleCount);
            h.Double(3273, _settings.SampleInterval * 1e6);
            h.Int32(3297, 16909060);
        }
        (int major, int minor) = _settings.Revision switch { SegyRevision.Rev0 => (0, 0), SegyRevision.Rev1 => (1, 0), SegyRevision.Rev20 => (2, 0), _ => (2, 1) };
        bool swapped = _settings.ByteOrder == SegyByteOrder.PairSwapped;
        (bytes[300], bytes[301]) = swapped ? ((byte)minor, (byte)major) : ((byte)major, (byte)minor);
        h.Int16(3503, _settings.Revision == SegyRevision.Rev0 ? 0 : 1);
        h.Int16(3507, HasExtension ? 1 : 0);
        h.Int16(3511, IsRevision2(_settings) ? 4 : 0);
        return bytes;
    }

    private static void FillSweep(HeaderWriter h, Waveform sweep)
    {
        int taper = (int)Math.Round(sweep.TaperFraction * sweep.Duration * 1e3);
        h.Int16(3233, (int)Math.Round(sweep.StartFrequency));
        h.Int16(3235, (int)Math.Round(sweep.EndFrequency));
        h.Int16(3237, (int)Math.Round(sweep.Duration * 1e3));
        h.Int16(3239, 1);
        h.Int16(3243, taper);
        h.Int16(3245, taper);
        h.Int16(3247, 2);
    }

    private void FillHeader(SegyTrace trace, HeaderWriter h)
    {
        _written++;
        h.Int32(1, _written);
        h.Int32(5, _written);
        h.Int32(9, trace.Ping);
        h.Int32(13, trace.Receiver);
        h.Int16(29, trace.Kind);
        short elevation = _settings.ElevationScalar, time = _settings.Revision == SegyRevision.Rev0 ? (short)1 : _settings.TimeScalar != 0 ? _settings.TimeScalar : FinestTimeScalar(trace.Delay);
        h.Int32(41, Scaled(-trace.ReceiverPosition.Depth, elevation));
        h.Int32(49, Scaled(trace.Source.Depth, elevation));
        short coordinate = _settings.CoordinateScalar != 0 ? _settings.CoordinateScalar : FinestScalar(trace);
        h.Int16(69, elevation);
        h.Int16(71, coordinate);
        h.Int32(73, Scaled(trace.Source.Easting, coordinate));
        h.Int32(77, Scaled(trace.Source.Northing, coordinate));
        h.Int32(81, Scaled(trace.ReceiverPosition.Easting, coordinate));
        h.Int32(85, Scaled(trace.ReceiverPosition.Northing, coordinate));
        h.Int16(89, 1);
        h.Int16(109, checked((short)Scaled(trace.Delay * 1e3, time)));
        h.Int16(115, Math.Min(_settings.SampleCount, ushort.MaxValue));
        h.Int16(117, (int)Math.Round(_settings.SampleInterval * 1e6));
        ZonedDateTime utc = trace.Time.InUtc();
        h.Int16(157, utc.Year);
        h.Int16(159, utc.DayOfYear);
        h.Int16(161, utc.Hour);
        h.Int16(163, utc.Minute);
        h.Int16(165, utc.Second);
        h.Int16(167, 4);
        if (_settings.Revision != SegyRevision.Rev0)
            h.Int16(215, time);
    }

    /// <summary>Trace header extension 1 of revision 2.1.</summary>
    private void FillExtension(SegyTrace trace, HeaderWriter e)
    {
        e.Int64(1, _written);
        e.Int64(9, _written);
        e.Int64(17, trace.Ping);
        e.Double(33, -trace.ReceiverPosition.Depth);
        e.Double(41, trace.ReceiverPosition.Depth);
        e.Double(57, trace.Source.Depth);
        e.Double(97, trace.Source.Easting);
        e.Double(105, trace.Source.Northing);
        e.Double(113, trace.ReceiverPosition.Easting);
        e.Double(121, trace.ReceiverPosition.Northing);
        e.Int32(137, _settings.SampleCount);
        e.Int32(141, trace.Time.InUtc().NanosecondOfSecond);
        e.Double(145, _settings.SampleInterval * 1e6);
        e.Int16(157, 1);
        e.Text(233, "SEG00001");
    }

    private static short FinestScalar(SegyTrace trace)
    {
        double greatest = Math.Max(Math.Max(Math.Abs(trace.Source.Easting), Math.Abs(trace.Source.Northing)), Math.Max(Math.Abs(trace.ReceiverPosition.Easting), Math.Abs(trace.ReceiverPosition.Northing)));
        foreach (short scalar in (short[])[-10000, -1000, -100, -10])
            if (greatest * -scalar < int.MaxValue)
                return scalar;
        return 1;
    }

    private static short FinestTimeScalar(double delay)
    {
        foreach (short scalar in (short[])[-10000, -1000, -100, -10])
            if (Math.Abs(delay) * 1e3 * -scalar < short.MaxValue)
                return scalar;
        return 1;
    }

    private static int Scaled(double value, short scalar)
    {
        double scaled = Math.Round(HeaderBytes.Unscaled(value, scalar));
        return Math.Abs(scaled) <= int.MaxValue ? (int)scaled : throw new ArgumentOutOfRangeException(nameof(value), value, $"does not fit a header integer with scalar {scalar}");
    }
}
