using System.Security.Claims;

namespace Undersand.Workbench.Network;

/// <summary>Who asks, and what they may do now: a device that was forgotten may do nothing, also in a page that is still open.</summary>
internal sealed class Visitors(BoatNetwork? network)
{
    private readonly AsyncLocal<ClaimsPrincipal?> _asking = new();

    /// <summary>The boat's network; null where the workbench answers on its own machine only.</summary>
    public BoatNetwork? Network => network;

    /// <summary>Whoever sits at the machine itself.</summary>
    public static ClaimsPrincipal Here { get; } = Named("here", "here");

    public static ClaimsPrincipal With(Pass pass) => Named("pass", pass.Id);

    /// <summary>One answer's worth of looking, for a program that sends a code with each question.</summary>
    public static ClaimsPrincipal Looking { get; } = Named("code", "code");

    /// <summary>What someone may do; null for nothing.</summary>
    public Role? RoleOf(ClaimsPrincipal user) => user.Identity?.AuthenticationType switch
    {
        "here" => Role.Run,
        "code" => Role.Look,
        "pass" => network?.Passes.RoleOf(user.Identity.Name!),
        _ => null,
    };

    /// <summary>Notes who asks, for all that is done for them from here on.</summary>
    public void Note(ClaimsPrincipal user) => _asking.Value = user;

    /// <summary>Whether whoever asks may; the program itself, when nobody asks, may everything.</summary>
    public bool MayNow(Role least) => _asking.Value is not { } user || RoleOf(user) >= least;

    /// <summary>Refuses what whoever asks may not do.</summary>
    /// <exception cref="SurveyException">They may not.</exception>
    public void Require(Role least)
    {
        if (!MayNow(least))
            throw new SurveyException("this device", null, $"it may not {least.ToString().ToLowerInvariant()}", $"pair it again with the code for the role “{least.ToString().ToLowerInvariant()}”");
    }

    // Tokens against forged forms are bound to a name, and refuse a visitor who has none.
    private static ClaimsPrincipal Named(string how, string name) => new(new ClaimsIdentity([new Claim(ClaimTypes.Name, name)], how));
}
