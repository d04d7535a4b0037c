using System.Buffers;

namespace Undersand.Storage.SegY;

/// <summary>An open SEG-Y file of any revision, byte order and sample format. Traces are read on demand; any number of threads may read.</summary>
internal sealed class SegyFile : IDisposable
{
    private readonly SegySource _source;

    private SegyFile(SegySource source, SegyLayout layout)
    {
        _source = source;
        Layout = layout;
    }

    /// <summary>How the file is laid out.</summary>
    public SegyLayout Layout { get; }

    /// <summary>How the user knows it.</summary>
    public string Name => _source.Name;

    /// <summary>Bytes of the file.</summary>
    public long Length => _source.Length;

    /// <param name="path">Where the file lies.</param>
    /// <param name="name">How messages call it; its path if null.</param>
    /// <exception cref="SurveyException">The file can't be opened, is no SEG-Y file, or is broken.</exception>
    public static SegyFile Open(string path, string? name = null)
    {
        var source = new SegySource(path, name ?? path);
        try
        {
            return new SegyFile(source, SegyLayoutFinder.Find(source));
        }
        catch
        {
            source.Dispose();
            throw;
        }
    }

    /// <summary>Reads a trace's headers.</summary>
    /// <param name="trace">From 0.</param>
    public SegyTraceHeader HeaderOf(int trace)
    {
        Span<byte> header = stackalloc byte[SegyTraceHeader.Size * Math.Min(2, 1 + Layout.ExtraTraceHeaders)];
        _source.ReadExactly(Layout.StartOf(trace), header);
        return new SegyTraceHeader(header, Layout.ByteOrder);
    }

    /// <summary>Reads a trace's samples; those it lacks are filled with zeros.</summary>
    /// <param name="trace">From 0.</param>
    /// <param name="samples">As long as the longest trace.</param>
    public void Read(int trace, Span<float> samples)
    {
        int count = Math.Min(Layout.SamplesOf(trace), samples.Length), length = count * Layout.SampleSize;
        byte[] bytes = ArrayPool<byte>.Shared.Rent(length);
        try
        {
            Span<byte> stored = bytes.AsSpan(0, length);
            _source.ReadExactly(Layout.StartOf(trace) + Layout.HeaderSize, stored);
            SampleDecoder.Decode(stored, Layout.Format, Layout.ByteOrder, samples[..count]);
            samples[count..].Clear();
        }
        finally
        {
            ArrayPool<byte>.Shared.Return(bytes);
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _source.Dispose();
}
