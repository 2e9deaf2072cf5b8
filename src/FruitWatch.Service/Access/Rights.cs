using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Access;

/// <summary>Which rights come with a role, and which a token's scopes leave of them.</summary>
internal static class Rights
{
    private static readonly Dictionary<Role, Right[]> s_ofRole = new()
    {
        [Role.Coordinator] =
        [
            Right.ReadBeds, Right.ReadRecords, Right.ReadFeeds, Right.ReadMails, Right.WriteLog, Right.ManageBeds, Right.ManageSites,
            Right.ManageFeeds, Right.ManagePeople, Right.ManageCooperative, Right.OwnSettings, Right.OwnAccount,
        ],
        [Role.Grower] = [Right.ReadBeds, Right.ReadRecords, Right.ReadFeeds, Right.ReadMails, Right.WriteLog, Right.ManageBeds, Right.OwnSettings, Right.OwnAccount],
        [Role.FarmHand] = [Right.ReadBeds, Right.WriteLog, Right.OwnSettings, Right.OwnAccount],
        [Role.Viewer] = [Right.ReadBeds, Right.ReadRecords, Right.ReadFeeds, Right.ReadMails, Right.OwnSettings, Right.OwnAccount],
    };

    /// <summary>All that somebody who works from a personal link may.</summary>
    public static readonly IReadOnlyList<Right> OfLink = [Right.ReadBeds, Right.WriteLog];

    /// <summary>Scopes of tokens, in the order in which they are offered.</summary>
    public static readonly IReadOnlyDictionary<string, IReadOnlyList<Right>> OfScope = new Dictionary<string, IReadOnlyList<Right>>
    {
        ["read"] = [Right.ReadBeds, Right.ReadRecords, Right.ReadFeeds, Right.ReadMails],
        ["log"] = [Right.WriteLog],
        ["beds"] = [Right.ManageBeds],
        ["sites"] = [Right.ManageSites],
        ["feeds"] = [Right.ManageFeeds],
        ["settings"] = [Right.OwnSettings],
        ["people"] = [Right.ManagePeople],
        ["cooperative"] = [Right.ManageCooperative],
        ["account"] = [Right.OwnAccount],
    };

    public static IReadOnlyList<Right> OfRole(Role role) => s_ofRole[role];

    /// <summary>What the words of a token's scopes stand for; words that are not known stand for nothing.</summary>
    public static IEnumerable<Right> OfScopes(string scopes) =>
        scopes.Split(' ', StringSplitOptions.RemoveEmptyEntries).SelectMany(scope => OfScope.GetValueOrDefault(scope, []));
}
