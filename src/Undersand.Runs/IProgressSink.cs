namespace Undersand.Runs;

/// <summary>Hears how far a run has come. All members may be called from several threads at once.</summary>
public interface IProgressSink
{
    /// <summary>A step begins; the one before it is over.</summary>
    /// <param name="step">What is done, as a person would say it: “Tracking the seabed”.</param>
    /// <param name="total">How much there is to do, in <paramref name="unit"/>; 0 where that isn't known.</param>
    /// <param name="unit">What is counted, in the plural: “pings”, “tiles”, “MB”.</param>
    void Begin(string step, double total, string unit);

    /// <summary>Something of the step in hand is done.</summary>
    /// <param name="amount">How much more, in the step's unit.</param>
    void Advance(double amount = 1);

    /// <summary>Something of the step in hand was there already from an earlier run: it is done, and says nothing of how fast this one works.</summary>
    /// <param name="amount">How much more, in the step's unit.</param>
    void TakeOver(double amount = 1);

    /// <summary>Something a person at the screen wants to know now.</summary>
    /// <param name="text">One line.</param>
    void Message(string text);
}
