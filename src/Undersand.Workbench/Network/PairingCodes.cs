using System.Security.Cryptography;
using System.Threading.RateLimiting;

namespace Undersand.Workbench.Network;

/// <summary>The codes on the server's screen, one for each role: eight digits, new with each start of the program and whenever asked for.</summary>
/// <remarks>Five wrong ones a minute from all devices together: trying every code through would take decades.</remarks>
public sealed class PairingCodes : IDisposable
{
    internal const int WrongPerMinute = 5;
    private readonly Lock _lock = new();
    private readonly FixedWindowRateLimiter _wrong = new(new FixedWindowRateLimiterOptions { PermitLimit = WrongPerMinute, Window = TimeSpan.FromMinutes(1), QueueLimit = 0 });
    private Dictionary<Role, string> _codes = Fresh();

    /// <summary>The code of a role, as people read it: <c>1234 5678</c>.</summary>
    public string Of(Role role) => _codes[role].Insert(4, " ");

    /// <summary>Makes new codes; the old ones are worth nothing then. Devices that are paired stay so.</summary>
    public void Renew() => _codes = Fresh();

    /// <summary>Tries a code.</summary>
    /// <param name="typed">What someone typed; spaces and hyphens don't count.</param>
    /// <param name="role">What it is the code of.</param>
    /// <returns>Whether it is one; null where too many wrong ones were tried: no code is looked at until a minute has passed.</returns>
    internal bool? Try(string? typed, out Role role)
    {
        role = default;
        byte[] digits = [.. (typed ?? "").Where(c => c is not (' ' or '-')).Take(16).Select(c => (byte)Math.Min(c, '\u00ff'))];
        lock (_lock)
        {
            if (_wrong.GetStatistics()!.CurrentAvailablePermits == 0)
                return null;
            bool found = false;
            foreach (var (of, code) in _codes)
                if (CryptographicOperations.FixedTimeEquals(digits, [.. code.Select(c => (byte)c)]))
                    (role, found) = (of, true);
            if (!found)
                _wrong.AttemptAcquire().Dispose();
            return found;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _wrong.Dispose();

    private static Dictionary<Role, string> Fresh()
    {
        HashSet<string> codes = [];
        while (codes.Count < 3)
            codes.Add(RandomNumberGenerator.GetString("0123456789", 8));
        return Enum.GetValues<Role>().Zip(codes).ToDictionary(p => p.First, p => p.Second);
    }
}
