using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using NodaTime;
using NodaTime.Text;
using Undersand.Storage;

namespace Undersand.Workbench.Network;

/// <summary>The devices that are paired, in a file, so that a restart sends nobody back to the server's screen.</summary>
/// <remarks>The file holds no secret: only what a secret is checked by. Members may be called from several threads.</remarks>
internal sealed class Passes
{
    public static readonly Duration Lasts = Duration.FromDays(30);
    private readonly string _path;
    private readonly IClock _clock;
    private readonly Lock _lock = new();
    private List<Pass> _all;

    /// <exception cref="SurveyException">The file is there and is not one of ours.</exception>
    public Passes(string path, IClock clock) => (_path, _clock, _all) = (path, clock, Read(path));

    public IReadOnlyList<Pass> All
    {
        get
        {
            lock (_lock)
                return [.. _all.Where(Holds)];
        }
    }

    /// <summary>Pairs a device; on disk when this returns.</summary>
    /// <returns>The secret that the device keeps and that is kept nowhere else.</returns>
    /// <exception cref="SurveyException">The file can't be written to; nothing has changed then.</exception>
    public string Give(Role role, string who)
    {
        string secret = Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));
        var pass = new Pass(RandomNumberGenerator.GetHexString(12, lowercase: true), ProofOf(secret), role, who, _clock.GetCurrentInstant());
        lock (_lock)
            Write([.. Read(_path).Where(Holds), pass]);
        return secret;
    }

    /// <summary>Whose secret this is; null where it is nobody's, or no longer.</summary>
    public Pass? Of(string secret)
    {
        string proof = ProofOf(secret);
        lock (_lock)
        {
            // It may have been paired with another workbench of this user meanwhile.
            if (!_all.Exists(p => p.Proof == proof))
                _all = Read(_path);
            return _all.Find(p => p.Proof == proof && Holds(p));
        }
    }

    /// <summary>What a pass allows now; null where it was forgotten or is over.</summary>
    public Role? RoleOf(string id)
    {
        lock (_lock)
            return _all.Find(p => p.Id == id && Holds(p))?.Role;
    }

    /// <summary>Forgets a device: it may do nothing from now on.</summary>
    public void Forget(string id)
    {
        lock (_lock)
            Write([.. Read(_path).Where(p => p.Id != id)]);
    }

    private bool Holds(Pass pass) => _clock.GetCurrentInstant() - pass.Since < Lasts;

    private static string ProofOf(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));

    private void Write(List<Pass> all)
    {
        WholeFile.WriteBytes(_path, JsonBytes.OfArray(json =>
        {
            foreach (Pass pass in all)
            {
                json.WriteStartObject();
                json.WriteString("id", pass.Id);
                json.WriteString("proof", pass.Proof);
                json.WriteString("role", pass.Role.ToString());
                json.WriteString("who", pass.Who);
                json.WriteString("since", InstantPattern.General.Format(pass.Since));
                json.WriteEndObject();
            }
        }, indented: true));
        _all = all;
    }

    private static List<Pass> Read(string path)
    {
        if (!File.Exists(path))
            return [];
        try
        {
            using JsonDocument json = JsonDocument.Parse(File.ReadAllBytes(path));
            return [.. json.RootElement.EnumerateArray().Select(p => new Pass(Text(p, "id"), Text(p, "proof"), Enum.Parse<Role>(Text(p, "role")), Text(p, "who"), InstantPattern.General.Parse(Text(p, "since")).GetValueOrThrow()))];
        }
        catch (Exception e) when (e is JsonException or KeyNotFoundException or InvalidOperationException or ArgumentException or UnparsableValueException)
        {
            throw new SurveyException(path, null, $"this is no list of devices ({e.Message.TrimEnd('.')})", "move the file away; every device is paired anew then", e);
        }
    }

    private static string Text(JsonElement of, string name) => of.GetProperty(name).GetString()!;
}
