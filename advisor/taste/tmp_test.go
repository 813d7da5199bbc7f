package taste
import ("testing";"fmt";"os";"strings")
func TestTmp(t *testing.T){
 l:=Default()
 b,_:=os.ReadFile("/tmp/wl/usr/share/dict/american-english-small")
 sp,_:=os.Create("/tmp/wl/spelt"); en,_:=os.Create("/tmp/wl/ending")
 ns:=0
 for _,w:=range strings.Fields(string(b)) {
  if strings.Contains(w,"'") {continue}
  w=strings.ToLower(w)
  if _,ok:=l.phrases[w];ok {continue}
  if m,ok:=l.ending(w);ok { fmt.Fprintln(en,w,l.entries[m.entry].Term); continue}
  if m,ok:=l.lookUp(w);ok { ns++; fmt.Fprintln(sp,w,l.entries[m.entry].Term)}
 }
 fmt.Println(ns)
}
