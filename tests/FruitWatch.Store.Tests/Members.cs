using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.AspNetCore.Identity;
using NodaTime;

namespace FruitWatch.Store.Tests;

/// <summary>One row of each table about members and their programs, every field filled.</summary>
internal static class Members
{
    public static async Task AddOneOfEachAsync(FruitWatchStore store, long cooperativeId, Person person, long bedId)
    {
        var account = new Account
        {
            UserName = $"iris{cooperativeId}@example.org",
            NormalizedUserName = $"IRIS{cooperativeId}@EXAMPLE.ORG",
            Email = $"iris{cooperativeId}@example.org",
            NormalizedEmail = $"IRIS{cooperativeId}@EXAMPLE.ORG",
            EmailConfirmed = true,
            PasswordHash = "hash",
            SecurityStamp = "stamp",
            ConcurrencyStamp = "other",
            TwoFactorEnabled = true,
            Operator = true,
            MadeAt = AlderLane.Odd,
        };
        var hook = new Webhook
        {
            CooperativeId = cooperativeId,
            Name = "Scales in the shed",
            Address = "https://shed.example/told",
            Events = "notice.opened",
            SealedSecret = "sealed",
            SealedOldSecret = "before",
            OldSecretUntil = AlderLane.Odd,
            Active = false,
            StoppedWhy = "gone",
            FailingSince = AlderLane.Odd,
            MadeAt = AlderLane.Odd,
        };
        store.AddRange(account, hook);
        await store.SaveChangesAsync();
        person.AccountId = account.Id;
        store.AddRange(
            new IdentityUserClaim<long> { UserId = account.Id, ClaimType = "kind", ClaimValue = "value" },
            new IdentityUserLogin<long> { UserId = account.Id, LoginProvider = "elsewhere", ProviderKey = $"7-{cooperativeId}", ProviderDisplayName = "Elsewhere" },
            new IdentityUserToken<long> { UserId = account.Id, LoginProvider = "own", Name = "authenticator", Value = "secret" },
            new IdentityUserPasskey<long> { UserId = account.Id, CredentialId = [1, 2, (byte)cooperativeId], Data = new IdentityPasskeyData { Name = "Phone", PublicKey = [4], AttestationObject = [5], ClientDataJson = [6] } },
            new BedGrower { BedId = bedId, PersonId = person.Id },
            new SignInPace { Key = $"hash{cooperativeId}", Failures = 3, LastAt = AlderLane.Odd, NotBefore = Now },
            new Invitation { CooperativeId = cooperativeId, PersonId = person.Id, Hash = $"a{cooperativeId}", SentAt = AlderLane.Odd, ExpiresAt = Now, AcceptedAt = Now },
            new PersonalLink { CooperativeId = cooperativeId, PersonId = person.Id, Name = "Phone", Hash = $"b{cooperativeId}", MadeAt = AlderLane.Odd, ExpiresAt = Now, RevokedAt = Now, LastUsedAt = Now },
            new ApiToken { CooperativeId = cooperativeId, PersonId = person.Id, Name = "Scales", Hash = "c", Scopes = "read log", MadeAt = AlderLane.Odd, ExpiresAt = Now, RevokedAt = Now, LastUsedAt = Now },
            new AuditEntry { At = AlderLane.Odd, CooperativeId = cooperativeId, PersonId = person.Id, Via = "session", Action = "bed.changed", SubjectId = "1", Detail = "{}" },
            new IdempotentRequest { Caller = $"token:{cooperativeId}", Key = "k", CooperativeId = cooperativeId, Fingerprint = "f", StartedAt = AlderLane.Odd, Status = 201, Headers = "{}", Body = "{}" },
            new WebhookDelivery
            {
                CooperativeId = cooperativeId,
                WebhookId = hook.Id,
                MessageId = "msg_1",
                Event = "notice.opened",
                Body = "{}",
                State = DeliveryState.Sending,
                Attempts = 2,
                NextTryAt = AlderLane.Odd,
                Owner = "server-1",
                LeaseUntil = Now,
                MadeAt = AlderLane.Odd,
                DeliveredAt = Now,
                LastStatus = 503,
                LastError = "busy",
            },
            new DataProtectionKey { FriendlyName = $"key-{cooperativeId}", Xml = "<key/>" });
        await store.SaveChangesAsync();
    }

    private static Instant Now { get; } = Instant.FromUtc(2026, 10, 5, 4, 12, 33);
}
