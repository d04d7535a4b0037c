namespace Undersand.Imaging.Conditioning;

/// <summary>The receivers of a line by their numbers, so that a ping that lacks one does not shift the rest.</summary>
internal sealed class Channels
{
    private readonly Dictionary<int, int> _indices;

    /// <summary>Of a line.</summary>
    public Channels(ISurveyLine line)
    {
        Numbers = Enumerable.Range(0, line.PingCount).SelectMany(p => line.PingAt(p).Receivers.Select(r => r.Number)).Distinct().Order().ToArray();
        _indices = Numbers.Select((number, i) => (number, i)).ToDictionary(x => x.number, x => x.i);
    }

    /// <summary>Receiver numbers, rising; a channel is an index into them.</summary>
    public int[] Numbers { get; }

    /// <summary>The channel of a ping's receiver.</summary>
    public int Of(Ping ping, int receiverIndex) => _indices[ping.Receivers[receiverIndex].Number];
}
