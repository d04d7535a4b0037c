using Microsoft.AspNetCore.Components.Authorization;

namespace Undersand.Workbench.Network;

/// <summary>Whoever looks at a page.</summary>
internal sealed class Visitor(AuthenticationStateProvider authentication, Visitors visitors)
{
    /// <summary>Whether they may now.</summary>
    public async Task<bool> MayAsync(Role least) => visitors.May((await authentication.GetAuthenticationStateAsync()).User, least);
}
