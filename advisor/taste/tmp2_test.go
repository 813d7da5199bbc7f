package taste
import ("testing";"fmt")
func TestTmp2(t *testing.T){
 l:=Default()
 for _,s:=range []string{"","sour","a bit sour","very sour","way too sour","sour tart","sour acidic","sour thin","bitter","bitter dry","bitter weak","balanced","balanced sweet","sweet","sour bitter","a bit sour a bit bitter","very sour very bitter","sour strong","not sour","not sour at all","not too sour","less sour","thin","watery","strong","perfect","nice","channelled","clean","sour tart lemony sharp salty","burnt","short finish","bright","juicy","flat"} {
 w,_:=l.Read(s); r:=l.Judge([]Tasting{{1,w}},Measured{}); r2:=l.Judge([]Tasting{{1,w},{2,w}},Measured{})
 fmt.Printf("%-25s E %5.2f ± %.2f S %5.2f ± %.2f even %.2f praise %.2f  | E %5.2f ± %.2f even %.2f\n",s,r.Extraction,r.ExtractionSD,r.Strength,r.StrengthSD,r.Even,r.Praise,r2.Extraction,r2.ExtractionSD,r2.Even)}
}
func BenchmarkX(b *testing.B){ l:=Default(); w,_:=l.Read("sour thin sharp balanced not bitter less dry"); b.ReportAllocs(); for b.Loop(){ l.Judge([]Tasting{{1,w}},Measured{})}}
